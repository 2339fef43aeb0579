"""A tray in words."""

from __future__ import annotations

from typing import Any

import pytest

from firmware_py.facts.views.run import EndingView, WashView
from tests.tui.sample_bench import NOW_S, bench, by_eye, due, fixing, lane, six_lanes, steps
from tui.pages.trays.list_words import now_line, one_line
from tui.pages.trays.words import equivalent_now_s, lane_words, next_tick_s

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
    assert (words.what, words.digits) == ("DEVELOP: time left, ±8 s", "3:08")
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
    assert said(lane()).seen.endswith("Seen: sky is up 1:18, image appears 0:41")


def test_what_the_foot_does_is_said_for_both_presses():
    words = said(lane())
    assert (words.foot, words.held) == (
        "Foot or Space: mark: shadow detail shows",
        "Foot held or F: pull the plate",
    )


def test_the_most_urgent_of_all_trays_is_told_on_top_whichever_is_in_focus():
    assert now_line(six_lanes(), NOW_S) == ("NOW  TRAY 2: On to Wash, 1:13 over   U: turn to it", True)
    assert now_line(bench(lane(1), focus=1), NOW_S) == (
        "Nothing is wanted now. In 0:12, tray 1: Rock the tray, left edge up",
        False,
    )


def test_factor_and_coefficient_stand_beside_each_other_with_what_the_book_knows():
    words = said(by_eye(3))
    assert (words.what, words.digits) == ("DEVELOP: time so far, PULL WHEN IT IS RIGHT", "2:00")
    assert words.call == "Left by factor 1:35, coefficient 3:08, ceiling 11:40"
    assert words.precedent == "12 of this box: pulled at 4:50 (4:10 to 5:40)"
    assert "2 PLATES: half plate 3, half plate 4" in words.title
    assert "(every 0:30)" in words.seen


def test_what_the_book_knows_of_a_development_is_not_told_once_the_plate_is_out_of_it():
    known = by_eye(3).precedent
    assert said(fixing(3, precedent=known)).precedent == ""
    assert said(lane(**READY, precedent=known)).precedent.startswith("12 of this box")


def test_the_clock_that_ends_a_development_has_an_arrow():
    endings = (
        EndingView(by="time", ends=False, due_s=NOW_S - 5.0, equivalent_s=300.0),
        EndingView(by="appearance", ends=True, due_s=NOW_S + 95.0, equivalent_s=204.75),
    )
    words = said(by_eye(1, ends=("appearance",), endings=endings, due_by="appearance", due_s=NOW_S + 95.0))
    assert (words.what, words.digits) == ("DEVELOP: time left, ±8 s", "1:35")
    assert words.call == "Left by factor ►1:35, coefficient over by 0:05"
    before = said(by_eye(1, endings=endings[:1]))
    assert before.call == "Factor 5.25: mark the first appearance; left by coefficient over by 0:05"


def test_a_bath_outside_its_window_says_what_is_wanted():
    words = said(by_eye(3, is_outside=True, window=(18.0, 24.0)))
    assert words.bath == "Bath 17.4 °C ±0.5 TOO COLD: 18 or more is wanted"
    assert words.bath_doubtful


@pytest.mark.parametrize(
    ("left_s", "words"),
    [(72.0, "Water 2 of 6: change it in 1:12"), (-3.0, "CHANGE THE WATER (2 of 6): Enter")],
)
def test_a_wash_in_waters_asks_for_each(left_s, words):
    wash = WashView(water=2, waters=6, change_due_s=NOW_S + left_s)
    assert said(fixing(1, steps=steps(3), step=3, wash=wash)).call == words


def test_a_fixer_is_asked_about_until_the_plate_is_clear():
    assert said(fixing(1, due_s=None, look_due_s=NOW_S - 1)).call == "IS IT CLEAR? MARK IT"
    words = said(fixing(1, due_s=None, look_due_s=NOW_S + 60))
    assert (words.what, words.digits) == ("FIX: time so far, until it is clear", "2:00")
    assert said(fixing(1, cleared_s=250.0)).call == "Clear after 4:10. In plain hypo, 25 per cent"


def test_what_light_a_plate_bears_is_said():
    assert said(lane(light_allowed="dark")).light == "TOTAL DARKNESS"


@pytest.mark.parametrize("width", [12, 27, 60])
def test_one_line_is_one_line(width):
    for sample in six_lanes().lanes:
        line = one_line(sample, NOW_S, width, in_focus=sample.lane == 1)
        assert len(line) <= width
        assert "\n" not in line


def test_one_line_says_its_state_in_words_and_shape():
    assert one_line(due(2), NOW_S, 40, in_focus=False).startswith("! 2  +1:13 on to Wash  half plate 2")
    assert one_line(lane(2), NOW_S, 40, in_focus=True).startswith("►[2]  3:08 Develop  half plate 2")


def test_a_name_that_finds_no_room_is_left_out_of_the_list_as_the_number_tells_the_tray():
    assert one_line(due(2), NOW_S, 27, in_focus=False) == "! 2  +1:13 on to Wash"
    both = by_eye(3, plate="B8-13", plates=("B8-13", "B8-14"))
    assert one_line(both, NOW_S, 30, in_focus=False).endswith("Develop  2 PLATES")


@pytest.mark.parametrize(
    ("sample", "wait_s"),
    [(lane(), 0.4), (fixing(1, state="due", due_s=NOW_S - 73.25), 0.75), (lane(**READY), 1.0)],
)
def test_the_next_tick_is_when_the_large_digits_change(sample, wait_s):
    assert next_tick_s(sample, NOW_S) == pytest.approx(wait_s, abs=1e-6)


def test_hostile_names_become_plain_text():
    words = said(lane(plate="x\x1b[32m\n\u202ey"))
    assert words.title.isprintable()
