"""Open runs come back after a crash or a power cut, with what is known of the time between, and how well."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest

from firmware_py.bench.show import show
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import SimulatedClock
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import run as ev
from firmware_py.journal.run_record import RunRecord
from tests.bench.trays_at_hand import ALL, RINSE, TraysAtHand, developed, routine

EVENING = datetime(2026, 3, 14, 20, 0, tzinfo=UTC)
BY_APPEARANCE = routine(developed(ends=("appearance",), factor=5.0), RINSE, name="by appearance")


def first_bench() -> TraysAtHand:
    return TraysAtHand(ALL, BY_APPEARANCE, clock=SimulatedClock(start_s=500.0, start_utc=EVENING))


def after_a_crash(at: TraysAtHand, away_s: float) -> TraysAtHand:
    """Return another controller on the same start of the machine, ``away_s`` later."""
    clock = SimulatedClock(
        start_s=at.clock.now_s() + away_s,
        boot_id=at.clock.boot_id,
        start_utc=at.clock.utc() + timedelta(seconds=away_s),
    )
    return came_back(at, clock)


def after_a_power_cut(at: TraysAtHand, away_s: float, *, clock_off_s: float = 0.0) -> TraysAtHand:
    """Return a controller on a machine that started anew, up for 12 s when ``away_s`` have gone by."""
    utc = at.clock.utc() + timedelta(seconds=away_s + clock_off_s)
    return came_back(at, SimulatedClock(start_s=12.0, start_utc=utc))


def came_back(at: TraysAtHand, clock: SimulatedClock) -> TraysAtHand:
    again = TraysAtHand(ALL, BY_APPEARANCE, clock=clock)
    for record in at.records():
        if record.state != "ended":
            again.entries += at.of(record.run_id)
            again.bench.runs.resume(record)
    again._gather()
    return again


def test_after_a_crash_every_run_goes_on_at_once_and_has_lost_nothing():
    """Three seconds without a controller, two plates: each ends at its own moment."""
    at = first_bench()
    at.open(plate="A")
    at.pass_s(40.0)
    at.open(plate="B")
    at.pass_s(60.0)
    again = after_a_crash(at, 3.0)
    resumed = [record.resumed[-1] for record in again.records()]
    assert [(r.how, r.doubt_s) for r in resumed] == [("boot clock", 0.0)] * 2
    assert [r.away_s for r in resumed] == pytest.approx([3.0, 3.0])
    again.pass_s(300.0)
    for record in again.records():
        done = record.steps[0]
        assert done.ended_s is not None
        assert done.ended_s - done.started_s == pytest.approx(300.0, abs=1e-3)


def test_a_step_that_fell_due_while_nobody_watched_is_over_since_then():
    """Not since the controller came back."""
    at = first_bench()
    at.open()
    at.do(acts.Pull())
    at.pass_s(10.0)
    again = after_a_crash(at, 60.0)
    again.pass_s(0.01)
    view = again.view()
    assert view.state == "due"
    assert view.due_s == pytest.approx(again.clock.now_s() - 40.0, abs=0.1)
    fell = again.events(ev.StepFellDue)[-1]
    assert isinstance(fell, ev.StepFellDue)
    assert fell.over_s == pytest.approx(40.0, abs=0.1)
    assert "now" in [tune for _, tune in again.tunes]


def test_a_development_that_was_over_while_nobody_watched_ends_loudly_and_tells_what_it_came_to():
    """The plate lay in the developer all the time: 310 s, not 300."""
    at = first_bench()
    at.open()
    at.pass_s(290.0)
    again = after_a_crash(at, 20.0)
    again.pass_s(1.0)
    done = again.records()[0].steps[0]
    assert done.why == "time"
    assert done.equivalent_s == pytest.approx(310.0, abs=1.1)
    assert "now" in [tune for _, tune in again.tunes]


def test_the_factor_clock_goes_on_across_a_crash():
    """45 s x 5, with 30 s of them without a controller."""
    at = first_bench()
    at.open("by appearance")
    at.pass_s(45.0)
    at.do(acts.Mark(what="image appears"))
    at.pass_s(20.0)
    again = after_a_crash(at, 30.0)
    again.pass_s(140.0)
    done = again.records()[0].steps[0]
    assert done.why == "appearance"
    assert done.ended_s == pytest.approx(225.0, abs=1e-3)


def test_after_a_power_cut_a_run_waits_and_the_likely_time_is_offered_with_its_doubt():
    at = first_bench()
    at.open()
    at.pass_s(100.0)
    again = after_a_power_cut(at, 90.0)
    view = again.view()
    assert view.state == "interrupted"
    assert view.away is not None
    assert view.away.likely_s == pytest.approx(90.0, abs=0.1)
    assert view.away.doubt_s == 30.0
    again.do(acts.TakeUp())
    resumed = again.records()[0].resumed[-1]
    assert resumed.how == "wall clock"
    assert resumed.doubt_s == 30.0
    again.pass_s(111.0)
    done = again.records()[0].steps[0]
    assert done.ended_s == pytest.approx(300.0, abs=0.5)
    assert done.doubt_s == 30.0


def test_while_the_bench_waits_to_be_answered_the_likely_time_grows():
    """The plate lies in its bath all the while: two minutes until somebody comes are two minutes more."""
    at = first_bench()
    at.open()
    at.pass_s(30.0)
    again = after_a_power_cut(at, 40.0)
    again.pass_s(120.0)
    away = again.view().away
    assert away is not None
    assert away.likely_s == pytest.approx(160.0, abs=0.1)
    again.do(acts.TakeUp())
    assert again.records()[0].run_s == pytest.approx(190.0, abs=0.5)


def test_a_person_corrects_the_time_and_the_book_says_that_a_person_did():
    at = first_bench()
    at.open()
    at.pass_s(100.0)
    again = after_a_power_cut(at, 90.0)
    again.do(acts.TakeUp(away_s=60.0, doubt_s=8.0))
    assert again.records()[0].resumed == [ev.RunResumed(away_s=60.0, doubt_s=8.0, how="person")]
    doubt_s = again.view().doubt_s
    assert doubt_s is not None
    assert doubt_s > 8.0


@pytest.mark.parametrize(
    ("clock_off_s", "why"),
    [
        (-7200.0, "the wall clock went back"),
        (-85.0, "but this machine has been up for 12 s"),
        (90_000.0, "the wall clock tells 25 h"),
    ],
)
def test_a_wall_clock_that_can_not_be_right_is_not_believed_and_the_person_must_say(clock_off_s, why):
    """Many boards start with a clock that stood still, or at a date long past."""
    at = first_bench()
    at.open()
    at.pass_s(100.0)
    again = after_a_power_cut(at, 90.0, clock_off_s=clock_off_s)
    away = again.view().away
    assert away is not None
    assert away.likely_s is None
    assert why in away.why_not
    with pytest.raises(Refused, match="say how long the plate lay"):
        again.do(acts.TakeUp())
    again.do(acts.TakeUp(away_s=90.0))
    assert again.lane().is_developing


def test_several_runs_come_back_each_in_its_tray_and_each_is_taken_up_by_itself():
    at = first_bench()
    at.open("all", plate="A")
    at.pass_s(30.0)
    at.open("by appearance", plate="B")
    at.pass_s(40.0)
    at.do(acts.Mark(what="image appears", lane=2))
    again = after_a_power_cut(at, 60.0)
    assert {lane.lane: lane.plate for lane in show(again.bench).lanes} == {1: "A", 2: "B"}
    again.do(acts.TakeUp(lane=2, away_s=60.0))
    assert again.view(1).state == "interrupted"
    assert again.view(2).state == "running"
    again.pass_s(101.0)
    done = again.records()[1].steps[0]
    assert done.why == "appearance"
    assert done.ended_s is not None
    assert done.ended_s - done.started_s == pytest.approx(200.0, abs=0.5)
    again.do(acts.TakeUp(lane=1))
    again.pass_s(1.0)
    assert again.records()[0].steps[0].doubt_s == 30.0


def test_a_run_whose_plate_lay_in_no_bath_yet_comes_back_without_a_question():
    """It lost nothing."""
    at = first_bench()
    at.do(acts.OpenRun(plate="A", routine="all"))
    again = after_a_power_cut(at, 500.0, clock_off_s=-7200.0)
    assert again.view().state == "ready"
    again.do(acts.Proceed())
    assert again.lane().is_developing


def test_a_run_that_was_taken_up_can_be_cut_off_again():
    """Twice in one evening; the doubts add up."""
    at = first_bench()
    at.open()
    at.pass_s(50.0)
    second = after_a_power_cut(at, 30.0)
    second.do(acts.TakeUp())
    second.pass_s(20.0)
    third = after_a_power_cut(second, 40.0)
    third.do(acts.TakeUp(away_s=40.0, doubt_s=5.0))
    assert third.records()[0].steps[0].doubt_s == 35.0
    assert third.records()[0].run_s == pytest.approx(140.0, abs=0.5)


def test_an_interrupted_run_can_be_given_up_without_being_taken_up():
    at = first_bench()
    at.open()
    at.pass_s(50.0)
    again = after_a_power_cut(at, 30.0, clock_off_s=-7200.0)
    again.do(acts.Abandon())
    assert again.records()[0].ended == "abandoned"


def test_while_a_run_goes_on_the_book_hears_from_it_every_ten_seconds():
    """So the moment of a power cut is known to ten seconds, in any bath."""
    at = first_bench()
    at.open()
    at.do(acts.Pull())
    at.pass_s(29.0)
    run = at.lane().record.run_id
    moments = [e.boot_s for e in at.of(run)]
    assert max(b - a for a, b in pairwise(moments)) <= 10.0 + 1e-6
    assert at.clock.now_s() - moments[-1] <= 10.0


def test_what_was_replayed_is_what_was_seen():
    """After all of it."""
    at = first_bench()
    at.open()
    at.pass_s(50.0)
    again = after_a_power_cut(at, 30.0)
    again.do(acts.TakeUp())
    again.pass_s(400.0)
    live = again.lane().record
    assert RunRecord.replay(again.of(live.run_id)) == live
