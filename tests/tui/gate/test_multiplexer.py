"""Inside a real tmux and a real GNU screen: what they write to the terminal around them is red."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.terminal_session import TerminalSession
from tui.gate.terminal import checked_multiplexer
from tui.red.colours import cube_red, indexed_rgb

LEVEL = 200
# Dim and bright, true colours and palette, and a cleared line: behind the gate, inside the multiplexer.
DRAWS = """
import sys
for red in range(0, 256, 5):
    sys.stdout.write(f"\\x1b[38;2;{red};0;0;48;2;{255 - red};0;0mx")
sys.stdout.write("\\x1b[0m\\r\\n\\x1b[32mgreen\\x1b[K\\x1b[44mblue\\x1b[?25hDRAWN\\r\\n")
sys.stdout.flush()
sys.stdin.readline()
"""
GATE = f"import sys; from tui.gate import run\nargv = [sys.executable, '-c', {DRAWS!r}]\n"
GATE += f"run(argv, level={LEVEL}, bar_is_hidden=True)"
REDS = {str(cube_red(red, LEVEL)) for red in range(256)}


def inside(kind, folder):
    (folder / "gate.py").write_text(GATE)
    command = f"{sys.executable} {folder / 'gate.py'}"
    if kind == "tmux":
        (folder / "conf").write_text("set -g status off\n")
        return ["tmux", "-S", str(folder / "t"), "-f", str(folder / "conf"), "new-session", command]
    (folder / "conf").write_text("startup_message off\nhardstatus ignore\n")
    return ["screen", "-c", str(folder / "conf"), "-S", folder.name, *command.split()]


def leave(kind, folder):
    if kind == "tmux":
        return ["tmux", "-S", str(folder / "t"), "kill-server"]
    return ["screen", "-S", folder.name, "-X", "quit"]


def colours(text):
    """Every colour that was set: as `38;5;N`, `38;2;r;g;b`, or a plain code."""
    for parameters in re.findall(r"\x1b\[([0-9;:]*)m", text):
        said = parameters.replace(":", ";")
        yield from re.findall(r"[34]8;5;\d+|[34]8;2;\d+;\d+;\d+", said)
        yield from re.findall(
            r"(?:^|;)((?:3|4|9|10)[0-7])(?=;|$)", re.sub(r"[34]8;(?:5;\d+|2;[\d;]+)", "", said)
        )


@pytest.fixture
def short():
    """A folder whose name leaves room for that of a socket."""
    with tempfile.TemporaryDirectory(prefix="emb") as folder:
        yield Path(folder)


@pytest.mark.parametrize("kind", ["tmux", "screen"])
def test_what_a_multiplexer_writes_of_the_gate_is_red(short, kind):
    if shutil.which(kind) is None:
        pytest.skip(f"{kind} is not here (Debian: {kind})")
    variables = {"TMUX": "", "STY": "", "SCREENDIR": str(short / "s"), "PYTHONPATH": ":".join(sys.path)}
    (short / "s").mkdir(mode=0o700)
    with TerminalSession(*inside(kind, short), variables=variables) as on:
        try:
            on.until_shown("DRAWN")
            on.settle()
        finally:
            subprocess.run(leave(kind, short), check=False, env={**os.environ, **variables})
        drawn = on.text[on.text.index("x") - 40 :]
        found = set(colours(drawn))
        assert len(found) == 8  # black and the three reds of the cube up to the level, as ink and as ground
        assert {c for c in found if c.split(";")[-1] not in REDS or c[1:5] != "8;5;"} == set()
        # It may show its cursor on the way; at rest there is none.
        assert drawn.rfind("\x1b[?25h") <= drawn.rfind("\x1b[?25l")


def test_the_reds_of_the_cube_are_pure_and_none_is_past_the_level():
    for level in (95, 134, 200, 255):
        for red in range(256):
            shown = indexed_rgb(cube_red(red, level))
            assert shown[1:] == (0, 0)
            assert shown[0] <= level
            assert (shown[0] == 0) == (red == 0)


@pytest.mark.parametrize(
    "variables", [{"TMUX": "/tmp/t,1,0"}, {"STY": "1.x"}, {"TERM": "screen-256color"}, {"TERM": "tmux"}]
)
def test_a_multiplexer_is_refused_unless_its_bar_is_hidden(variables):
    with pytest.raises(Refused, match="not red"):
        checked_multiplexer(variables, LEVEL, bar_is_hidden=False)
    with pytest.raises(Refused, match="dimmer than 95"):
        checked_multiplexer(variables, 60, bar_is_hidden=True)
    assert checked_multiplexer(variables, LEVEL, bar_is_hidden=True)
    assert not checked_multiplexer({"TERM": "xterm-256color"}, 60, bar_is_hidden=False)
