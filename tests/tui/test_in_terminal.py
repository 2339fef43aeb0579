"""The real screen behind the real gate on a real controller: every byte of the session is read."""

from __future__ import annotations

import os
import signal
import sys

import pytest

from tests.tui.real_screen import LEVEL, assert_red, controller, screen
from tests.tui.terminal_session import TerminalSession


def test_a_plate_is_developed_on_the_screen_and_the_screen_killed_in_the_middle(tmp_path):
    with controller(tmp_path), screen(tmp_path) as on:
        on.until_shown("No plate on the bench")
        on.press("o")
        on.until_shown("Which routine?")
        on.press("1")
        on.until_shown("Name of the plate")
        on.press("breakwater\r")
        on.until_shown("READY for DEVELOP")
        on.press("\r")
        on.until_shown("DEVELOP: time left")
        on.press("1")
        on.until_shown("Seen: image appears")
        os.kill(on.children()[0], signal.SIGKILL)
        on.until_shown("ended by signal 9 (SIGKILL)")
        assert "time left" not in on.shown()
        on.press(" ")
        on.until_shown("Seen: image appears")
        on.resize(36, 120)
        on.until(lambda: on.screen.display[0].endswith("light 6 of 9 "), "a page of the new size")
        on.press("p")
        on.until_shown("► RINSE")
        on.press("q")
        on.until_shown("The screen was left.")
        on.press("daylight\r")
        assert on.until_ended() == 0
        assert_red(on)


def test_a_screen_without_a_controller_says_so_and_finds_it_later(tmp_path):
    with screen(tmp_path) as on:
        on.until_shown("BENCH DISCONNECTED")
        with controller(tmp_path):
            on.until_shown("No plate on the bench")
            on.until_gone("NO LINE")
        on.until_shown("BENCH DISCONNECTED")
        assert_red(on)


@pytest.mark.parametrize(
    "where", ["tui.pages.trays.page:TraysPage.draw", "tui.pages.trays.page:TraysPage.middle"]
)
def test_a_fault_goes_to_a_file_and_one_red_line_says_where(tmp_path, where):
    module, _, name = where.partition(":")
    broken = (
        f"import sys, {module} as m; from pathlib import Path; from tui.app import show\n"
        "def fail(*_): raise ValueError('a wet \\x1b[32mcable')\n"
        f"m.{name} = fail\n"
        f"sys.exit(show(Path({str(tmp_path / 'no.sock')!r}), Path({str(tmp_path)!r})))"
    )
    argv = f"[sys.executable, '-c', {broken!r}]"
    gate = f"import sys; from tui.gate import run; sys.exit(run({argv}, level={LEVEL}))"
    with TerminalSession(sys.executable, "-c", gate, level=LEVEL) as on:
        on.until_shown("exit status 1")
        on.settle()
        assert "The screen failed (ValueError: a wet" in on.shown()
        assert "screen-faults.txt" in on.shown().replace("\n", "")
        assert on.strict.faults == []
        assert "Traceback" not in on.shown()
    assert "in fail" in (tmp_path / "screen-faults.txt").read_text()
