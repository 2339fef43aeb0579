"""Two screens on one controller: each shows the other's acts, and says so when the line is lost."""

from __future__ import annotations

from tests.tui.real_screen import assert_red, controller, screen


def test_two_screens_show_each_others_acts_and_both_find_the_bench_again(tmp_path):
    with screen(tmp_path) as one, screen(tmp_path) as other:
        with controller(tmp_path):
            for on in (one, other):
                on.until_shown("No plate on the bench")
            one.press("s")
            other.until_shown("safelight ON")
            other.press("o")
            other.until_shown("Which routine?")
            other.press("1")
            other.until_shown("Name of the plate")
            other.press("breakwater\r")
            for on in (one, other):
                on.until_shown("READY for")
                assert "REHEARSAL" in on.screen.display[1]
            # The other one may be on any page: banner and relays stand in the same place there.
            other.press("0")
            other.until_shown("Which page?")
            other.press("3")
            other.until_shown("BATHS  foot")
            one.press("\r")
            one.until_shown("time left")
            one.press("s")
            other.until_shown("safelight off")
        for on in (one, other):
            on.until_shown("BENCH DISCONNECTED")
            assert "BENCH DISCONNECTED" in on.screen.display[1]
        with controller(tmp_path):
            for on in (one, other):
                on.until_gone("NO LINE")
        for on in (one, other):
            assert_red(on)
