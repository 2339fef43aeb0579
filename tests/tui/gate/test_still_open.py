"""What the gate hears of open plates before it gives a terminal its colours back."""

from __future__ import annotations

import json
import socket
import sys
import threading
from contextlib import contextmanager

import msgspec
import pytest

from firmware_py.service.messages import PROTOCOL, Hello, Look, Refusal, Seen, ToController, Welcome
from tests.tui.sample_bench import bench, fixing, lane, six_lanes, steps
from tests.tui.terminal_session import TerminalSession, python
from tui.gate.still_open import HELLO, still_open

REAL = {"rehearsal": False}
WASHED = fixing(2, steps=steps(3), step=3)


@contextmanager
def controller(folder, *answers):
    """Something that listens and says ``answers`` to whoever comes."""
    path = folder / "bench.sock"
    heard = []
    with socket.socket(socket.AF_UNIX) as door:
        door.bind(str(path))
        door.listen()

        def serve():
            while True:
                try:
                    line, _ = door.accept()
                except OSError:
                    return
                with line:
                    heard.append(line.recv(4096))
                    line.sendall(b"".join(msgspec.json.encode(answer) + b"\n" for answer in answers))

        threading.Thread(target=serve, daemon=True).start()
        yield path
        door.shutdown(socket.SHUT_RDWR)
    assert HELLO in heard


def welcome(view):
    return Welcome(protocol=PROTOCOL, program="x", rehearsal=view.rehearsal), Seen(bench=view)


@pytest.mark.parametrize(
    ("view", "named"),
    [
        (bench(**REAL), []),
        (bench(lane(1), **REAL), ["run 1 is open (half plate 1, breakwater at low tide)"]),
        (bench(lane(1, state="ready"), fixing(3), WASHED, **REAL), ["run 1 is", "run 3 is"]),
        (bench(WASHED, lane(6, state="ended"), **REAL), []),
        (six_lanes(), []),
    ],
)
def test_plates_are_open_until_they_are_fixed_and_none_is_in_a_rehearsal(tmp_path, view, named):
    with controller(tmp_path, *welcome(view)) as path:
        said = still_open(path)
    assert bool(said) == bool(named)
    assert [words for words in named if words not in said] == []
    assert "run 2" not in said


def test_a_controller_that_is_not_there_or_speaks_strangely_is_no_answer(tmp_path):
    with pytest.raises(OSError, match=r"No such file"):
        still_open(tmp_path / "bench.sock")
    full = Refusal(what="there are 16 screens already")
    with controller(tmp_path, full) as path, pytest.raises(ValueError, match="16 screens"):
        still_open(path)
    with pytest.raises(OSError, match="refused"):
        still_open(path)


def test_what_the_gate_says_is_what_the_controller_understands():
    hello, look = (msgspec.json.decode(line, type=ToController) for line in HELLO.splitlines())
    assert hello == Hello(protocol=PROTOCOL, client="gate")
    assert look == Look()
    assert json.loads(HELLO.splitlines()[0])["protocol"] == PROTOCOL


def test_the_gate_asks_twice_while_the_controller_says_that_a_plate_is_open(tmp_path):
    with controller(tmp_path, *welcome(bench(lane(1), **REAL))) as path:
        argv = [sys.executable, "-m", "tui.cli", "--socket", str(path), "--level", "120"]
        with TerminalSession(*argv, level=120) as on:
            on.until_shown("DEVELOP: time left")
            on.press("q")
            on.until_shown("type daylight")
            on.press("daylight\r")
            on.until_shown("run 1 is open (half plate 1, breakwater at low tide)")
            assert not on.strict.released
            on.press("daylight\r")
            on.until_ended()
            assert on.strict.released
            assert on.strict.faults == []


def test_the_gate_imports_nothing_but_the_standard_library_to_ask():
    code = "import sys, tui.gate.still_open as s; print([m for m in sys.modules if 'msgspec' in m])"
    with TerminalSession(*python(code)) as on:
        on.until_shown("[]")
