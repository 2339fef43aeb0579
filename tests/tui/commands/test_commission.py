"""A commissioning on a real terminal, behind the gate: every byte is red; leaving writes nothing."""

import sys

from tests.tui.real_screen import not_red
from tests.tui.terminal_session import TerminalSession
from tui.gate.wishes import UNTESTED_RED as LEVEL


def test_a_step_is_led_through_in_red_and_left_without_a_trace(tmp_path):
    words = ["commission", "--rehearsal", "--step", "foot", "--write", str(tmp_path / "bench.toml")]
    with TerminalSession(sys.executable, "-m", "tui.cli", *words, level=LEVEL) as on:
        on.until_shown("at your own pace")
        on.press("ready\r")
        on.until_shown("Write debounce")
        on.press("no\r")
        on.until_shown("once more from the first step")
        on.press(" ")
        on.until(lambda: on.text.count("at your own pace") == 2, "the question of a second round")
        on.press("\x03")
        on.until_shown("nothing was written")
        on.until_shown("type daylight")
        assert not_red(on, LEVEL) == []
        on.press("daylight\r")
        on.until_ended()
    (report,) = tmp_path.iterdir()
    assert "20 movements" in report.read_text(encoding="utf-8"), "the first round's, which came to its end"
