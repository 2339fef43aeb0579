"""A pull that was a mistake is taken back by key and by foot; the count goes on by a stated rule."""

from __future__ import annotations

import pytest

from firmware_py.bench.trays.taking_back import TAKE_BACK_S
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import run as ev
from firmware_py.journal.run_record import RunRecord
from tests.bench.trays_at_hand import DEVELOP, RINSE, WASH, TraysAtHand, developed, routine


def pulled_after(seconds: float, *routines) -> TraysAtHand:
    at = TraysAtHand(*routines)
    at.open("all" if not routines else "tray")
    at.pass_s(seconds)
    at.do(acts.Pull())
    return at


def test_a_plate_put_back_is_developed_for_its_whole_time_and_the_book_holds_both():
    at = pulled_after(91.0)
    assert at.step() == "Rinse"
    at.pass_s(6.0)
    at.do(acts.TakeBackPull())
    assert at.step() == "Develop"
    assert at.view().equivalent_s == pytest.approx(97.0, abs=0.01)
    assert at.view().started_s == pytest.approx(50.0, abs=0.01)
    at.pass_s(203.5)
    done = at.lane().record.steps[0]
    assert done.why == "time"
    assert done.ended_s == pytest.approx(300.0, abs=0.05)
    kinds = [type(entry.event).__name__ for entry in at.entries]
    order = [kind for kind in kinds if kind in {"StepEnded", "PullTakenBack"}]
    assert order == ["StepEnded", "PullTakenBack", "StepEnded"]
    [back] = [entry.event for entry in at.entries if isinstance(entry.event, ev.PullTakenBack)]
    assert back.out_s == pytest.approx(6.0)
    assert done.out_s == pytest.approx(6.0)


def test_the_log_alone_gives_the_same_run_again():
    at = pulled_after(91.0)
    at.pass_s(14.0)
    at.do(acts.TakeBackPull())
    at.pass_s(30.0)
    at.do(acts.Pull())
    at.pass_s(40.0)
    record = at.lane().record
    again = RunRecord.replay([entry for entry in at.entries if entry.subject == record.run_id])
    assert again.steps == record.steps
    assert again.steps[0].equivalent_s == pytest.approx(135.0, abs=0.01)


def test_the_seconds_between_are_a_doubt_of_the_step():
    at = pulled_after(91.0)
    at.pass_s(10.0)
    at.do(acts.TakeBackPull())
    assert at.lane().record.steps[0].doubt_s == pytest.approx(10.0)


def test_the_seconds_between_count_at_the_rate_of_the_bath():
    """15 degC against 20: 2.36 ^ 0.5 times slower, in the dish and out of it (the routine's coefficient)."""
    at = TraysAtHand(baths={"developer": 15.0})
    at.open("all")
    at.pass_s(100.0)
    at.do(acts.Pull())
    at.pass_s(12.0)
    at.do(acts.TakeBackPull())
    assert at.view().equivalent_s == pytest.approx(112.0 / 2.36**0.5, rel=1e-3)


def test_one_foot_press_puts_it_back_after_a_long_press_that_pulled():
    at = TraysAtHand()
    at.open("all")
    at.pass_s(60.0)
    at.press(2.0)
    assert at.step() == "Rinse"
    assert at.view().foot_short == "put it back: Develop goes on"
    at.pass_s(2.0)
    at.press(0.2)
    assert at.step() == "Develop"


def test_after_fifteen_seconds_and_after_anything_done_with_the_plate_it_is_refused():
    at = pulled_after(60.0)
    at.pass_s(TAKE_BACK_S + 0.1)
    assert at.view().back_until_s is None
    assert at.view().foot_short == ""
    with pytest.raises(Refused, match="no pull can be taken back"):
        at.do(acts.TakeBackPull())

    at = pulled_after(60.0, routine(DEVELOP, WASH))
    at.do(acts.Mark(what="shadow detail shows"))
    assert at.view().back_until_s is None
    with pytest.raises(Refused, match="no pull can be taken back"):
        at.do(acts.TakeBackPull())


def test_where_nothing_was_pulled_and_where_the_run_is_over_there_is_nothing_to_take_back():
    at = TraysAtHand(routine(DEVELOP))
    at.open("tray")
    with pytest.raises(Refused, match="no pull can be taken back"):
        at.do(acts.TakeBackPull())
    at.pass_s(20.0)
    at.do(acts.Pull())
    with pytest.raises(Refused, match="no pull can be taken back"):
        at.do(acts.TakeBackPull())


def test_a_development_over_its_time_is_over_its_time_again():
    at = TraysAtHand(routine(developed(ends=("inspection",)), RINSE))
    at.open("tray")
    at.pass_s(910.0)
    at.do(acts.Pull())
    at.pass_s(3.0)
    at.do(acts.TakeBackPull())
    assert at.lane().record.state == "due"


def test_what_was_rocked_is_not_said_again_and_the_next_pull_ends_it():
    at = pulled_after(91.0, routine(DEVELOP, RINSE))
    at.pass_s(1.0)
    tunes = len(at.tunes)
    at.do(acts.TakeBackPull())
    at.pass_s(20.0)
    assert [tune for _, tune in at.tunes[tunes:]] == ["heard"]
    at.do(acts.Pull())
    assert at.step() == "Rinse"
