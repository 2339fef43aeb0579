"""The gate on a real pseudo-terminal: red whatever dies behind it, given back only for a word."""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.terminal_session import TerminalSession, python
from tests.tui.unlit import lights
from tui.gate import behind_gate
from tui.gate.dark import say_dark
from tui.gate.terminal import checked_kind

LEVEL = 120
# A screen program in miniature: whole screen, raw keys echoed with what they are, Q leaves with status 7.
ECHO = """
import os, sys, tty
tty.setraw(0)
sys.stdout.write("\\x1b[?1049h\\x1b[32mpage")
sys.stdout.flush()
while (key := os.read(0, 100)) != b"Q":
    sys.stdout.write(f"\\r\\n<{key.hex()}>")
    sys.stdout.flush()
sys.stdout.write("\\x1b[?1049l")
sys.exit(7)
"""
SIZES = """
import os, signal, sys, time
def say(*_):
    size = os.get_terminal_size()
    print(f"size {size.lines} by {size.columns}", flush=True)
signal.signal(signal.SIGWINCH, say)
say()
while True:
    signal.pause()
"""


def gate(child: str, *, extra: str = "", **session) -> TerminalSession:
    """Start the gate with a Python program behind it."""
    return gate_before([sys.executable, "-c", child], extra, **session)


def gate_before(argv: list[str], extra: str = "", **session) -> TerminalSession:
    code = f"import sys; from pathlib import Path; from tui.gate import run\nsys.exit(run({argv!r}"
    code += f", level={LEVEL}{extra}))"
    return TerminalSession(*python(code), level=LEVEL, **session)


def assert_red(session: TerminalSession) -> None:
    session.settle()
    assert session.strict.faults == []
    assert {colour for colour in session.colours() if colour != "default" and colour[2:] != "0000"} == set()


def give_back(session: TerminalSession) -> int:
    session.until_shown("type daylight")
    session.press("daylight\r")
    return session.until_ended()


def test_a_program_behind_the_gate_is_shown_in_red_and_its_status_comes_out():
    with gate(ECHO) as session:
        session.until_shown("page")
        session.press("Q")
        session.until_shown("exit status 7")
        assert give_back(session) == 7
        assert_red(session)
        assert session.strict.released


def test_palette_and_default_colours_are_red_before_anything_is_drawn():
    with gate(ECHO) as session:
        session.until_shown("page")
        assert {f"4;{index}" for index in range(256)} | {"10", "11", "12"} <= session.strict.palette
        assert session.text.index("]11;") < session.text.index("page")


def test_keys_pass_unchanged():
    with gate(ECHO) as session:
        session.until_shown("page")
        session.press("\x1b[A\x03\x1aé")
        session.until_shown("1b5b41031ac3a9")


def test_a_killed_program_is_said_in_one_line_and_opened_again_on_a_key():
    with gate(ECHO) as session:
        session.until_shown("page")
        os.kill(session.children()[0], signal.SIGKILL)
        session.until_shown("ended by signal 9 (SIGKILL)")
        assert "page" not in session.shown()
        session.press(" ")
        session.until_shown("page")
        session.until_gone("SIGKILL")
        os.kill(session.children()[0], signal.SIGKILL)
        session.until_shown("SIGKILL")
        assert give_back(session) == 128 + 9
        assert_red(session)


def test_a_traceback_is_shown_in_red_and_stays_readable():
    with gate("import sys; sys.stderr.write('\\x1b[1;35mbad\\x1b[0m\\n'); 1/0") as session:
        session.until_shown("exit status 1")
        assert "ZeroDivisionError" in session.shown()
        assert give_back(session) == 1
        assert_red(session)


def test_a_program_that_does_not_exist_is_said():
    with gate_before(["no-such-thing"]) as session:
        session.until_shown("no-such-thing: No such file")
        assert give_back(session) == 127


def test_a_stopped_program_is_wiped_and_goes_on_on_a_key():
    with gate(ECHO) as session:
        session.until_shown("page")
        os.kill(session.children()[0], signal.SIGSTOP)
        session.until_shown("stopped by signal 19 (SIGSTOP)")
        assert "page" not in session.shown()
        session.press("\r")
        session.until_gone("stopped")
        session.press("x")
        session.until_shown("<78>")


def test_a_program_that_reads_no_keys_is_ended_by_three_of_one_kind():
    with gate(
        "import tty, signal; tty.setraw(0); print('deaf', flush=True)\nwhile True: signal.pause()"
    ) as session:
        session.until_shown("deaf")
        session.press("\x1c")
        session.press("\x1c\x1c")
        session.until_shown("SIGKILL")
        assert give_back(session) == 128 + 9


def test_resizes_are_passed_on():
    with gate(SIZES) as session:
        session.until_shown("size 24 by 80")
        session.resize(36, 120)
        session.until_shown("size 36 by 120")


def test_any_other_word_gives_nothing_back():
    with gate("pass") as session:
        session.until_shown("type daylight")
        session.press("dalyight\r")
        session.until_shown("> That was another word.")
        session.press("\x1b[A")
        session.press("dayx\x7flight")
        session.until_shown("> daylight")
        assert not session.strict.released
        session.press("\r")
        assert session.until_ended() == 0


def test_the_colours_are_asked_for_twice_while_a_plate_is_open():
    with gate("pass", extra=", still_open=lambda: 'Plate 3 is open.'") as session:
        session.until_shown("type daylight")
        session.press("daylight\r")
        session.until_shown("Plate 3 is open.")
        assert not session.strict.released
        session.press("daylight\r")
        assert session.until_ended() == 0


def test_if_nobody_can_say_what_is_open_the_colours_are_asked_for_twice():
    with gate("pass", extra=", still_open=lambda: 1 / 0") as session:
        session.until_shown("type daylight")
        session.press("daylight\r")
        session.until_shown("Nobody can say")
        session.press("daylight\r")
        assert session.until_ended() == 0


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_gate_told_to_end_takes_the_program_along_and_leaves_the_terminal_red(number):
    with gate(ECHO) as session:
        session.until_shown("page")
        child = session.children()[0]
        os.kill(session.pid, number)
        assert session.until_ended() == 128 + number
        assert not session.strict.released
        assert_red(session)
        with pytest.raises(ProcessLookupError):
            os.kill(child, 0)


def test_a_console_is_taken_by_its_own_palette():
    with gate(ECHO, term="linux") as session:
        session.until_shown("page")
        assert "\x1b]P7780000" in session.text
        assert "38;2" not in session.text
        session.press("Q")
        give_back(session)
        assert session.text.rstrip().endswith("\x1b[2J\x1b[H\x1b[0m\x1b]R")
        assert session.strict.faults == []


def test_modes_that_a_killed_program_left_are_put_right():
    with gate(ECHO.replace("page", "\\x1b[?25l\\x1b[?1003h\\x1b[5;9rpage")) as session:
        session.until_shown("page")
        os.kill(session.children()[0], signal.SIGKILL)
        session.until_shown("SIGKILL")
        tail = session.text[session.text.index("page") :]
        assert all(mode in tail for mode in ("\x1b[?1003l", "\x1b[?25h", "\x1b[r"))


def test_without_a_terminal_nothing_is_opened(monkeypatch):
    monkeypatch.setattr(os, "isatty", lambda _: False)
    with pytest.raises(Refused, match="must be a terminal"):
        checked_kind("xterm-256color")


@pytest.mark.parametrize("term", ["dumb", "", "vt100"])
def test_a_terminal_without_colours_is_refused(monkeypatch, term):
    monkeypatch.setattr(os, "isatty", lambda _: True)
    with pytest.raises(Refused, match="no colours"):
        checked_kind(term)


def test_a_program_behind_the_gate_gets_no_colours_and_no_fixed_size_from_outside():
    given = behind_gate({"NO_COLOR": "1", "FORCE_COLOR": "3", "TERM": "xterm", "COLUMNS": "80"}, 90)
    assert given == {
        "TERM": "xterm",
        "COLORTERM": "truecolor",
        "TEXTUAL_COLOR_SYSTEM": "truecolor",
        "PYTHON_COLORS": "0",
        "EMBERTRAY_RED": "90",
    }


def in_the_dark(folder: Path) -> str:
    """The echoing program, which says to the gate that it is black, and after L that it is not."""
    known = f"from pathlib import Path; import tui.gate.dark as dark; state = Path({str(folder)!r})"
    said = "dark.say_dark(state); print('\\x1b]0;black\\x1b\\\\', end='')"
    lit = "    dark.say_light(state) if key == b'L' else None\n"
    return f"{known}\n{said}\n{ECHO.replace('    sys.stdout.write(f', f'{lit}    sys.stdout.write(f')}"


def black_from(on: TerminalSession) -> int:
    """Wait until the program has said that it is black; return where what it writes then begins."""
    on.until_written("]0;black")
    on.settle()
    return len(on.text)


def kill_and_wait(on: TerminalSession) -> None:
    [before] = on.children()
    os.kill(before, signal.SIGKILL)
    on.until(lambda: on.children() != [before], "the end of the program")
    on.settle()


def test_in_the_dark_nothing_is_shown_and_space_opens_the_screen_again(tmp_path):
    """Not even what the program itself writes: a traceback is as bright as a page."""
    with gate(in_the_dark(tmp_path)) as on:
        start = black_from(on)
        on.press("k")
        kill_and_wait(on)
        on.press("x ")
        on.until_written_after(start, "]0;black")
        on.press("k")
        on.settle()
        assert lights(on.text[start:]) == []
        assert not on.shown().strip()
        on.press("L")
        on.until_shown("<4c>")


def test_in_the_dark_a_word_lights_the_gates_own_lines(tmp_path):
    """Else a screen that cannot be opened any more would leave the person in the dark for ever."""
    with gate(in_the_dark(tmp_path)) as on:
        start = black_from(on)
        kill_and_wait(on)
        on.press("llllight"[:7])
        on.settle()
        assert lights(on.text[start:]) == []
        on.press("t")
        on.until_shown("ended by signal 9 (SIGKILL)")
        assert_red(on)


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_gate_that_ends_in_the_dark_leaves_the_terminal_black(tmp_path, number):
    with gate(in_the_dark(tmp_path)) as on:
        start = black_from(on)
        os.kill(on.pid, number)
        assert on.until_ended() == 128 + number
        assert lights(on.text[start:]) == []
        assert "\x1b]10;rgb:00/00/00" in on.text[start:]
        assert not on.strict.released


def test_a_gate_opened_where_a_screen_died_in_the_dark_shows_nothing(tmp_path):
    """No program has to run for that, and none that fails shows a light."""
    say_dark(tmp_path)
    with gate("1/0", extra=f", state=Path({str(tmp_path)!r})") as on:
        on.until_written("\x1b[2J")
        on.until(lambda: on.children() == [], "the end of the program")
        on.settle()
        assert lights(on.text) == []


def test_what_is_typed_before_a_program_reads_it_is_not_shown():
    with gate("import signal; print('here', flush=True)\nwhile True: signal.pause()") as on:
        on.until_shown("here")
        on.press("untimely")
        on.settle()
        assert "untimely" not in on.text


def test_what_is_typed_for_a_program_of_lines_is_shown():
    with gate("print(input('name? '))", extra=", echo=True") as on:
        on.until_shown("name?")
        on.press("jetty")
        on.until_shown("name? jetty")


def test_a_terminal_that_a_killed_gate_left_raw_is_given_back_whole():
    raw = "import tty; tty.setraw(0); from tui.gate.terminal import whole; import termios"
    asked = f"{raw}; print(whole(termios.tcgetattr(0))[:4] == before[:4], flush=True)"
    with TerminalSession(*python(f"import termios; before = termios.tcgetattr(0); {asked}")) as on:
        on.until_shown("True")
