"""The service units as systemd itself reads them; and that they name commands and files that there are."""

import importlib.util
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.tui.real_screen import controller
from tests.tui.terminal_session import TerminalSession
from tui.cli import COMMANDS, _parser
from tui.gate.wishes import DIMMEST_RED, UNTESTED_RED
from tui.pages.key_table import PAGES
from tui.red.colours import console_palette

HARDWARE = Path(__file__).parents[2] / "hardware"
UNITS = ("embertray.service", "embertray-screen.service")
# What systemd-analyze calls the exposure, 0 (closed) to 10: "OK" ends at 5. Own limit, well inside.
EXPOSURE = 1.5

needs_systemd = pytest.mark.skipif(
    shutil.which("systemd-analyze") is None, reason="systemd-analyze is not here (Debian: systemd)"
)


def lines_of(name):
    text = (HARDWARE / "systemd" / name).read_text(encoding="utf-8")
    return [line for line in text.splitlines() if line and not line.startswith("#")]


def values(name, key):
    return [line.partition("=")[2] for line in lines_of(name) if line.startswith(f"{key}=")]


@pytest.fixture
def installed(tmp_path):
    """Return a copy of the units whose commands exist, in a folder of its own."""
    for unit in UNITS:
        text = (HARDWARE / "systemd" / unit).read_text(encoding="utf-8")
        (tmp_path / unit).write_text(text.replace("/opt/embertray/", f"{tmp_path}/"), encoding="utf-8")
    (tmp_path / "bin").mkdir()
    for command in ("embertray", "python"):
        path = tmp_path / "bin" / command
        path.write_text("#!/bin/sh\n", encoding="utf-8")
        path.chmod(0o755)
    return tmp_path


@needs_systemd
def test_systemd_finds_nothing_to_say_about_the_units(installed):
    units = [str(installed / unit) for unit in UNITS]
    done = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", *units], capture_output=True, text=True, check=False
    )
    ours = [line for line in done.stderr.splitlines() if "embertray" in line]
    assert (done.returncode, ours) == (0, [])


@needs_systemd
def test_systemd_says_so_when_a_unit_is_wrong(installed):
    unit = installed / UNITS[0]
    unit.write_text(unit.read_text(encoding="utf-8").replace("Type=notify", "Type=nonsense"), "utf-8")
    done = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", str(unit)], capture_output=True, text=True, check=False
    )
    assert "nonsense" in done.stderr


@needs_systemd
@pytest.mark.parametrize("unit", UNITS)
def test_a_service_can_reach_little_of_the_machine(installed, unit):
    command = ["systemd-analyze", "security", "--offline=yes", f"--threshold={EXPOSURE * 10:.0f}"]
    done = subprocess.run([*command, str(installed / unit)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout
    assert "Overall exposure level" in done.stdout


def test_the_controller_s_unit_has_what_its_safety_hangs_on():
    unit = UNITS[0]
    assert values(unit, "Type") == ["notify"]
    assert float(values(unit, "WatchdogSec")[0]) == 5.0
    assert values(unit, "WatchdogSignal") == ["SIGKILL"]
    # All processes at once: a frozen switchboard would hold its lines (tests/hardware/test_kill_order.py).
    assert values(unit, "KillMode") == ["control-group"]
    assert values(unit, "Restart") == ["always"]
    assert values(unit, "LimitRTPRIO") == ["60"]
    assert values(unit, "LimitMEMLOCK") == ["infinity"]
    assert not values(unit, "PrivateDevices")
    assert not values(unit, "RestrictRealtime")


def test_the_units_name_commands_that_there_are():
    serve = values(UNITS[0], "ExecStart")[0].split()
    assert serve[1] in COMMANDS
    screen = values(UNITS[1], "ExecStart")[0].split()
    assert Path(screen[0]).name == "embertray"
    args = _parser(screen[1:]).parse_args(screen[1:])
    # Both ends of the line: the controller listens where the screen looks, and both go by the same settings.
    assert str(args.socket) == serve[serve.index("--socket") + 1]
    assert str(args.config) == serve[serve.index("--config") + 1]
    after = values(UNITS[0], "ExecStopPost")[0].split()
    assert importlib.util.find_spec(after[after.index("-m") + 1])
    assert after[-1] == serve[serve.index("--config") + 1]


def test_the_screen_s_own_command_line_goes_by_the_screen_s_settings(tmp_path):
    """As systemd starts it, in its environment, on a kernel console: no redder than was tested."""
    folders = {"%t/embertray": tmp_path, "%S/embertray-screen": tmp_path / "own"}
    (tmp_path / "bench.toml").write_text('[screen]\nbrightest = 60\ntested = "2031-05-04"\n', "utf-8")
    words = values(UNITS[1], "ExecStart")[0].replace("/etc/embertray/", f"{tmp_path}/")
    for name, folder in folders.items():
        words = words.replace(name, str(folder))
    command = words.replace("/opt/embertray/bin/embertray", f"{sys.executable} -m tui.cli").split()
    variables = dict(pair.split("=", 1) for pair in values(UNITS[1], "Environment")[0].split())
    with controller(tmp_path), TerminalSession(*command, level=60, term="linux", variables=variables) as on:
        # Before the page is XX("zzzz")
        on.until_shown("No plate on the bench")
        assert "zzzz" not in on.text
        on.press("+++++0")
        on.until_shown("Which page?")
        on.press(str(PAGES.index("bench") + 1))
        on.until_shown("further down")
        on.press("d")
        on.until_shown("light 9 of 9 is red 60 of 255")
        on.until_shown("2031-05-04")
        on.settle()
        assert on.strict.faults == []
    assert not (tmp_path / "screen-light").exists()


def test_the_console_s_palette_is_the_gate_s_own_in_every_one_of_its_three_forms():
    reds = console_palette(UNTESTED_RED)
    listed = ",".join(map(str, reds))
    dark = ",".join(["0"] * 16)
    assert (HARDWARE / "console" / "vtrgb").read_text("ascii") == f"{listed}\n{dark}\n{dark}\n"
    boot = (HARDWARE / "boot" / "cmdline.txt").read_text("ascii").split()
    assert [f"vt.default_red={listed}", f"vt.default_grn={dark}", f"vt.default_blu={dark}"] == boot[:3]
    escapes = (HARDWARE / "console" / "console.red").read_bytes().decode("ascii")
    found = re.findall(r"\x1b\]P([0-9A-F])([0-9a-f]{2})([0-9a-f]{4})", escapes)
    # What stands there until the gate has read the settings is as dim as can be read.
    assert [(int(i, 16), int(red, 16), rest) for i, red, rest in found] == [
        (i, red, "0000") for i, red in enumerate(console_palette(DIMMEST_RED))
    ]
    assert escapes.endswith("\x1b[2J\x1b[H")


def test_kernel_parameters_stand_on_one_line():
    text = (HARDWARE / "boot" / "cmdline.txt").read_text("ascii")
    assert text.count("\n") == 1
