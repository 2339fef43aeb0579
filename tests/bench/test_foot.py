"""The foot at the trays: one table, a long press on the lift, and nothing from a switch that is stuck."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firmware_py.bench.foot import Foot, FootRule
from firmware_py.bench.show import show
from firmware_py.bench.trays.foot_table import FOOT_TABLE, foot_words, situation
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.facts.acts import run as acts
from tests.bench.trays_at_hand import ALL, DEVELOP, TraysAtHand, routine


def test_at_the_trays_a_long_press_counts_when_the_foot_comes_up():
    foot = Foot(FootRule(0.8, 10.0))
    assert foot.edge(FootEdge(True, 0.0), long_means=True) is None
    assert foot.next_due_s() == 0.8
    assert foot.advance(0.8, at_lift=True) == "held"
    assert foot.advance(0.9, at_lift=True) is None
    assert foot.edge(FootEdge(False, 1.2), long_means=True) == "long"


def test_a_press_as_long_as_a_stuck_switch_counts_for_nothing_even_if_nobody_looked():
    foot = Foot(FootRule(0.8, 10.0))
    foot.edge(FootEdge(True, 0.0), long_means=True)
    assert foot.edge(FootEdge(False, 11.0), long_means=True) is None


def test_a_switch_stuck_in_a_development_pulls_no_plate():
    """Interlock 5: it is said, and the development goes on to its own end."""
    at = TraysAtHand()
    at.open()
    at.pass_s(20.0)
    at.foot(down=True)
    at.pass_s(60.0)
    assert at.lane().is_developing
    assert at.lane().record.marks == []
    assert any("stays down" in notice.words for notice in show(at.bench).notices)
    at.pass_s(300.0)
    assert at.records()[0].steps[0].why == "time"
    at.foot(down=False)
    at.pass_s(1.0)
    assert not any("stays down" in notice.words for notice in show(at.bench).notices)


def test_the_foot_is_told_when_it_has_been_down_for_long_enough():
    """A small sound, so that nobody need count."""
    at = TraysAtHand()
    at.open()
    at.press(held_s=1.0)
    assert [tune for _, tune in at.tunes] == ["held", "heard"]
    assert at.records()[0].steps[0].why == "pulled"


def test_a_whole_run_goes_by_foot_alone_and_each_press_does_what_the_table_says():
    """Begin, mark, pull, move on, clear, change the water."""
    at = TraysAtHand()
    at.do(acts.OpenRun(plate="A", routine="all"))
    seen = []

    def press(held_s: float = 0.1) -> None:
        seen.append(situation(at.lane()))
        at.press(held_s)

    press()
    at.pass_s(40.0)
    press()
    press()
    at.pass_s(20.0)
    press(1.0)
    at.pass_s(31.0)
    press()
    at.pass_s(130.0)
    press()
    at.pass_s(131.0)
    press()
    for _ in range(2):
        at.pass_s(60.5)
        press()
    at.pass_s(60.5)
    press()
    record = at.records()[0]
    assert record.ended == "pulled"
    assert [m.what for m in record.marks] == ["image appears", "shadow detail shows", "plate is clear"]
    assert seen == [
        "laid ready",
        "developing, seen",
        "developing, seen",
        "developing, all seen",
        "over its time",
        "fixing, not clear yet",
        "over its time",
        "washing in waters",
        "washing in waters",
        "over its time",
    ]


def test_once_all_is_seen_a_press_marks_nothing_more():
    """A stray press must not write fog into the book: it sounds the last cue again."""
    at = TraysAtHand()
    at.open()
    at.pass_s(31.0)
    at.press()
    at.press()
    marks = list(at.lane().record.marks)
    at.press()
    assert at.lane().record.marks == marks
    assert at.tunes[-1][1] == "left"


def test_in_the_dark_the_foot_marks_nothing_that_nobody_can_see():
    """Short sounds the last cue again, long pulls."""
    at = TraysAtHand(routine(replace(DEVELOP, light="dark")))
    at.open("tray")
    at.pass_s(31.0)
    assert foot_words(at.lane()) == ("sound the last cue again", "pull the plate")
    at.press()
    assert at.lane().record.marks == []
    at.press(1.0)
    assert at.records()[0].ended == "pulled"


def test_a_press_belongs_to_the_tray_in_focus_when_the_foot_came_down():
    """A key that turns the focus meanwhile does not turn the press."""
    at = TraysAtHand()
    at.open(plate="A")
    at.open(plate="B")
    at.foot(down=True)
    at.pass_s(1.0)
    at.do(acts.Focus(lane=1))
    at.foot(down=False)
    assert at.lane(1).is_developing
    assert not at.lane(2).is_developing


def test_over_a_run_that_is_over_the_foot_turns_to_the_tray_that_needs_the_person_most():
    """So that one who stands in the dark can go on."""
    at = TraysAtHand()
    at.open(plate="A")
    at.open(plate="B")
    at.do(acts.Abandon(lane=2))
    at.pass_s(10.0)
    at.press()
    assert at.bench.runs.focus == 2  # nothing needs anything yet
    at.do(acts.Pull(lane=1))
    at.pass_s(40.0)
    at.press()
    assert at.bench.runs.focus == 1


def test_a_press_that_means_nothing_is_said_and_changes_nothing():
    at = TraysAtHand(ALL)
    at.open()
    at.do(acts.Pull())
    at.pass_s(16.0)  # until then a press takes the pull back
    at.press()
    assert at.step() == "Rinse"
    assert any("cannot move on while Rinse goes on" in n.words for n in show(at.bench).notices)


@pytest.mark.parametrize("row", FOOT_TABLE)
def test_every_row_of_the_table_says_in_words_what_it_does(row: str):
    """Where there is a deed there are words, for page and manual."""
    found = FOOT_TABLE[row]  # type: ignore[index]
    assert bool(found.short) == bool(found.short_words)
    assert bool(found.long) == bool(found.long_words)
