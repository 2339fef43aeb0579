"""The real screen behind its gate, killed and frozen in an exposure that it lit: judged by the pins."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from firmware_py.service.messages import BEAT_S, SILENT_S
from tests.faults.lamp_bench import (
    DARK_WITHIN_S,
    busyness_s,
    in_the_book,
    is_lit,
    lamp,
    lamp_bench,
    open_print,
)
from tests.service.served_bench import CLOCK, ServedBench, wait_for
from tests.tui.real_screen import assert_red, screen
from tests.tui.terminal_session import TerminalSession

# Ten beats and more than twice the silence that would count: only a screen that beats gets so far.
LIT_FOR_S = 2
# What the bench of this test wants between two exposures, and a little; a thawed screen is quicker.
PAUSE_S = 0.2
assert max(9.0 * BEAT_S, 2.0 * SILENT_S) < LIT_FOR_S


def test_a_screen_frozen_and_a_screen_killed_in_mid_exposure_put_the_lamp_out(tmp_path: Path):
    """While it lives the lamp stays on; both halves are in the book, measured; the rest is offered anew."""
    with lamp_bench(tmp_path) as bench:
        client = open_print(bench, 60.0)
        with screen(bench.state) as on:
            on.until_shown("No plate on the bench")
            on.press("\x1b[C")
            on.until_shown("lamp on: base")
            light_and_strike(bench, on, signal.SIGSTOP)
            on.until_shown("stopped by signal 19")
            on.press(" ")
            on.until_shown("BROKEN OFF: base wants its rest")
            light_and_strike(bench, on, signal.SIGKILL)
            on.until_shown("ended by signal 9 (SIGKILL)")
            assert_red(on)
        wait_for(lambda: client.look()["lamp"]["foot_press"].startswith("give the rest of base"))
        wait_for(lambda: len(in_the_book(bench).sheets[0].exposures) == 2)
        (sheet,) = in_the_book(bench).sheets
        for half, span in zip(sheet.exposures, lamp(bench), strict=True):
            assert half.measured_s == pytest.approx(span.off_s - span.on_s, abs=0.1)
            assert half.ended == "stopped"
            assert not half.estimated
        assert [half.stopped_by for half in sheet.exposures] == [
            "a screen that does not answer",
            "a screen that has gone",
        ]


def test_a_frozen_gate_puts_the_lamp_out_as_no_key_can_reach_the_screen(tmp_path: Path):
    """The screen behind it is well; the rest is offered once the gate goes on."""
    with lamp_bench(tmp_path) as bench:
        client = open_print(bench, 60.0)
        with screen(bench.state) as on:
            on.until_shown("No plate on the bench")
            on.press("\x1b[C")
            on.until_shown("lamp on: base")
            light_and_strike(bench, on, signal.SIGSTOP, of=on.pid)
            wait_for(lambda: client.look()["lamp"]["foot_press"].startswith("give the rest of base"))
            os.kill(on.pid, signal.SIGCONT)
            on.until_shown("BROKEN OFF: base wants its rest")
            assert_red(on)
        (sheet,) = in_the_book(bench).sheets
        assert [half.stopped_by for half in sheet.exposures] == ["a screen that does not answer"]


def light_and_strike(
    bench: ServedBench, on: TerminalSession, number: signal.Signals, of: int | None = None
) -> None:
    """Light the lamp by key, see it stay lit meanwhile, strike the screen (or ``of``), and see it go out."""
    wait_for(lambda: all(CLOCK.now_s() > span.off_s + PAUSE_S for span in lamp(bench)))
    on.press(" ")
    on.until_shown(f"Dose {LIT_FOR_S}.")
    assert is_lit(bench)
    allowed_s = DARK_WITHIN_S + busyness_s()
    struck_s = CLOCK.now_s()
    os.kill(on.children()[0] if of is None else of, number)
    wait_for(lambda: not is_lit(bench))
    dark_s = lamp(bench)[-1].off_s - struck_s
    assert dark_s < allowed_s
    print(f"{number.name}: dark after {dark_s:.3f} s")
