"""The bare process by its pipes: whatever comes in that is not a clear command darkens the lamp."""

import os
import signal
import subprocess
import sys
from typing import Any

import pytest

from firmware_py.switchboard.commands import Beat, Configure, Expose, Leave, MakeSafe, Switch
from firmware_py.switchboard.lines import LINE_LIMIT, read_report, write_line
from firmware_py.switchboard.reports import (
    Alive,
    ExposureBegan,
    ExposureEnded,
    Leaving,
    RelaySwitched,
    SwitchboardReady,
)
from tests.switchboard.pin_watch import spans
from tests.switchboard.wiring import LAMP_PIN, configure


class Pipes:
    """A switchboard process at the end of two pipes."""

    def __init__(self, record, command):
        self.record = record
        words = [sys.executable, "-m", "firmware_py.switchboard"]
        pipe = subprocess.PIPE
        self.process: Any = subprocess.Popen(words, stdin=pipe, stdout=pipe, stderr=pipe, bufsize=0)
        self.say(command)

    def say(self, *commands):
        self.process.stdin.write(b"".join(write_line(command) for command in commands))

    def hear(self):
        return read_report(self.process.stdout.readline())

    def rest(self):
        """Return what it says until it has ended."""
        reports = [read_report(line) for line in self.process.stdout]
        self.process.wait()
        return reports

    def lamp(self):
        return spans(self.record, LAMP_PIN)

    def close(self):
        self.process.kill()
        self.process.wait()
        for stream in (self.process.stdin, self.process.stdout, self.process.stderr):
            stream.close()


@pytest.fixture
def start(tmp_path):
    started = []

    def start(command=None, *, silence_s=30.0):
        record = tmp_path / "pins.txt"
        pipes = Pipes(record, command or configure(record, silence_s=silence_s))
        started.append(pipes)
        return pipes

    yield start
    for pipes in started:
        pipes.close()


def light(pipes):
    assert isinstance(pipes.hear(), SwitchboardReady)
    pipes.say(Expose("a", "printing-lamp", None, 60.0))
    assert isinstance(pipes.hear(), ExposureBegan)


def assert_darkened(pipes, word):
    """The process measured the end, said why, ended with a failure, and the pin agrees."""
    ended, leaving = pipes.rest()
    assert isinstance(ended, ExposureEnded)
    assert ended.why == "made safe"
    assert word in leaving.why
    assert pipes.process.returncode == 1
    (span,) = pipes.lamp()
    assert span.off_s == pytest.approx(ended.off_s, abs=0.1)


@pytest.mark.parametrize(
    ("line", "word"),
    [
        (b"garbage\n", "unreadable"),
        (b"\n", "unreadable"),
        (b'{"say": "Alive", "number": 1}\n', "'say' with one of"),
        (b"x" * (LINE_LIMIT + 1), "a line of more than"),
    ],
)
def test_an_unreadable_command_darkens_the_lamp(start, line, word):
    pipes = start()
    light(pipes)
    pipes.process.stdin.write(line)
    assert_darkened(pipes, word)


def test_a_closed_pipe_darkens_the_lamp(start):
    pipes = start()
    light(pipes)
    pipes.process.stdin.close()
    assert_darkened(pipes, "the controller is gone")


def test_half_a_command_before_the_end_is_not_obeyed(start):
    pipes = start()
    light(pipes)
    pipes.process.stdin.write(write_line(Switch("safelight", on=True))[:-1])
    pipes.process.stdin.close()
    assert_darkened(pipes, "the controller is gone")


def test_silence_darkens_the_lamp_and_a_beat_keeps_it_on(start):
    pipes = start(silence_s=0.3)
    light(pipes)
    pipes.say(Beat(1))
    assert pipes.hear() == Alive(1)
    assert_darkened(pipes, "nothing heard from the controller for 0.3 s")


def test_a_controller_that_never_reads_darkens_the_lamp(start):
    pipes = start()
    light(pipes)
    beats = b"".join(write_line(Beat(number)) for number in range(4000))
    pipes.process.stdin.write(beats)
    pipes.process.wait()
    (span,) = pipes.lamp()
    assert span.off_s > span.on_s
    assert pipes.process.returncode == 1
    assert b"does not listen" in pipes.process.stderr.read()


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGHUP])
def test_a_signal_darkens_the_lamp(start, number):
    pipes = start()
    light(pipes)
    pipes.process.send_signal(number)
    assert_darkened(pipes, number.name)


def test_told_to_end_it_darkens_the_lamp_at_once_and_lights_nothing_more(start):
    pipes = start()
    light(pipes)
    pipes.process.send_signal(signal.SIGTERM)
    assert isinstance(ended := pipes.hear(), ExposureEnded)
    assert ended.why == "made safe"
    pipes.say(Expose("b", "printing-lamp", None, 60.0), Leave())
    refused, leaving = pipes.rest()
    assert "stopped by SIGTERM" in refused.words
    assert leaving == Leaving("asked to leave")
    assert pipes.process.returncode == 0
    assert len(pipes.lamp()) == 1


def test_told_to_end_it_goes_by_itself_where_the_controller_says_nothing(start):
    pipes = start()
    light(pipes)
    pipes.process.send_signal(signal.SIGTERM)
    assert_darkened(pipes, "SIGTERM")


def test_it_gives_its_guardian_a_sign_of_life_with_every_beat(tmp_path):
    reading, writing = os.pipe()
    words = [sys.executable, "-m", "firmware_py.switchboard", str(writing)]
    with subprocess.Popen(
        words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, pass_fds=(writing,)
    ) as process:
        os.close(writing)
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(write_line(configure(tmp_path / "pins.txt", silence_s=30.0)))
        process.stdin.flush()
        assert isinstance(read_report(process.stdout.readline()), SwitchboardReady)
        for number in range(3):
            process.stdin.write(write_line(Beat(number)))
            process.stdin.flush()
            assert os.read(reading, 1) == b"."
            assert read_report(process.stdout.readline()) == Alive(number)
        process.stdin.close()
    assert os.read(reading, 100).strip(b".") == b""
    assert os.read(reading, 100) == b"", "its end is seen by the pipe"
    os.close(reading)


def test_make_safe_darkens_the_lamp_and_the_process_goes_on(start):
    pipes = start()
    light(pipes)
    pipes.say(MakeSafe(), Switch("safelight", on=True))
    assert isinstance(pipes.hear(), ExposureEnded)
    assert isinstance(pipes.hear(), RelaySwitched)
    pipes.say(Leave())
    off, leaving = pipes.rest()
    assert isinstance(off, RelaySwitched)
    assert leaving == Leaving("asked to leave")
    assert pipes.process.returncode == 0


def test_commands_that_come_in_pieces_are_put_together(start):
    pipes = start()
    assert isinstance(pipes.hear(), SwitchboardReady)
    line = write_line(Beat(5))
    pipes.process.stdin.write(line[:9])
    pipes.process.stdin.write(line[9:])
    assert pipes.hear() == Alive(5)


@pytest.mark.parametrize(
    ("command", "word"),
    [
        (Beat(1), "the first command must be Configure"),
        (configure("pins.txt", pins="wax"), "pins by 'wax'"),
        (
            Configure((*configure(None).relays, *configure(None).relays), "mock"),
            "on the pin of 'printing-lamp'",
        ),
        (configure(os.devnull + "/none"), "Not a directory"),
    ],
)
def test_a_start_that_makes_no_sense_opens_nothing(start, command, word):
    pipes = start(command)
    (leaving,) = pipes.rest()
    assert word in leaving.why
    assert pipes.process.returncode == 1
    assert not pipes.record.exists()


IMPORTS = """
import sys
# What a system, an editable or a coverage install loads into every interpreter is not of our choosing.
begun = set(sys.modules)
import firmware_py.switchboard.station, firmware_py.switchboard.guardian, firmware_py.switchboard.panel
from firmware_py.switchboard.commands import Configure, RelayWiring
firmware_py.switchboard.panel.Panel(Configure((RelayWiring("lamp", 17),), "mock"))
ours = sorted(name for name in sys.modules if name.startswith(("firmware_py", "tui")))
print(*ours)
print(*sorted({name.partition(".")[0] for name in set(sys.modules) - begun}))
"""


def test_the_process_imports_the_standard_library_the_pin_library_and_little_of_ours():
    said = subprocess.run([sys.executable, "-c", IMPORTS], capture_output=True, text=True, check=True).stdout
    ours, roots = (set(line.split()) for line in said.splitlines())
    strangers = roots - set(sys.stdlib_module_names) - {"firmware_py", "gpiozero", "colorzero"}
    assert {name for name in strangers if not name.startswith("_")} == set()
    assert roots & {"asyncio", "sqlite3", "pint", "msgspec", "textual", "unittest"} == set()
    assert {name for name in ours if name.startswith("firmware_py.craft.")} == {"firmware_py.craft.refusal"}
    assert "firmware_py.devices.clock" not in ours


def test_clearing_the_pins_imports_no_gpiozero():
    code = "import sys, firmware_py.switchboard.guardian; print('gpiozero' in sys.modules)"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert said == "False\n"
