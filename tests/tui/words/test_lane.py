"""A tray in words."""

from __future__ import annotations

from typing import Any

import pytest

from tests.tui.sample_bench import NOW_S, fixing, lane, six_lanes, steps
from tui.words.lane import equivalent_now_s, lane_words, next_tick_s, one_line, urgency

READY: dict[str, Any] = {
    "state": "ready",
    "due_s": None,
    "started_s": None,
    "equivalent_s": None,
    "next_cue": None,
}


def said(sample, now_s=NOW_S):
    return lane_words(sample, now_s, NOW_S)


def test_a_development_shows_what_is_left_and_how_sure_that_is():
    words = said(lane())
    assert (words.what, words.digits) == ("DEVELOP: time left", "3:08")
    assert words.call == "The end may come 8 s sooner or later"
    assert words.equivalent == "Equivalent 1:53 of 5:00 at 18 °C"
    assert not words.waiting


def test_time_goes_on_between_two_views():
    words = said(lane(), NOW_S + 100.0)
    assert words.digits == "1:28"
    assert words.equivalent.startswith("Equivalent 3:30 of")


def test_equivalent_time_never_passes_its_target_on_its_own():
    assert equivalent_now_s(lane(), 4000.0) == 300.0


def test_a_plate_that_is_ready_says_what_to_do_and_how_long_it_will_take():
    words = said(lane(**READY))
    assert words.waiting
    assert (words.what, words.digits) == ("READY for DEVELOP: will take about", "5:00")
    assert words.call == "Plate into pyro-soda developer and Enter"
    assert words.equivalent == "Equivalent time wanted: 5:00 at 18 °C"


def test_a_step_over_its_time_counts_up_and_says_where_to_go():
    words = said(fixing(1, state="due", due_s=NOW_S - 73.2))
    assert words.waiting
    assert (words.what, words.digits, words.call) == ("FIX: OVER ITS TIME by", "1:13", "On to Wash: Enter")


def test_the_last_step_over_its_time_asks_for_the_plate_to_be_taken_out():
    assert said(fixing(1, state="due", steps=steps(3), step=3)).call == "Take it out: Enter"


def test_an_interrupted_run_shows_no_time_at_all():
    words = said(lane(state="interrupted", due_s=None, equivalent_s=None))
    assert words.waiting
    assert words.digits == ""
    assert words.call == "Enter: take it up   W: say how long it lay"


def test_marks_stand_newest_first():
    assert said(lane()).seen == "Seen: sky is up 1:18, image appears 0:41"


def test_what_the_foot_does_is_said_for_both_presses():
    words = said(lane())
    assert (words.foot, words.held) == ("Foot: mark: shadow detail shows", "Foot held: pull the plate")


def test_trays_over_their_time_come_first_then_those_with_least_left():
    order = sorted(six_lanes().lanes, key=lambda sample: urgency(sample, NOW_S))
    assert [sample.lane for sample in order] == [2, 1, 3, 4, 5, 6]


@pytest.mark.parametrize("width", [12, 27, 60])
def test_one_line_is_one_line(width):
    for sample in six_lanes().lanes:
        line = one_line(sample, NOW_S, width)
        assert len(line) <= width
        assert "\n" not in line


def test_one_line_says_its_state_in_words_and_shape():
    assert one_line(fixing(2, state="due", due_s=NOW_S - 73), NOW_S, 40).startswith(
        "! 2 Fix OVER 1:13  half plate 2"
    )


@pytest.mark.parametrize(
    ("sample", "wait_s"),
    [(lane(), 0.4), (fixing(1, state="due", due_s=NOW_S - 73.25), 0.75), (lane(**READY), 1.0)],
)
def test_the_next_tick_is_when_the_large_digits_change(sample, wait_s):
    assert next_tick_s(sample, NOW_S) == pytest.approx(wait_s, abs=1e-6)


def test_hostile_names_become_plain_text():
    words = said(lane(plate="x\x1b[32m\n\u202ey"))
    assert words.title.isprintable()
