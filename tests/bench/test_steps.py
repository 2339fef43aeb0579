"""Every kind of step ends as its routine says: by time, appearance, eye, ceiling, clearing, waters."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import run as ev
from firmware_py.journal.outcome import outcome
from tests.bench.trays_at_hand import ALL, FIX, RINSE, WASH, TraysAtHand, developed, routine

BY_APPEARANCE = developed(ends=("appearance",), factor=5.0)
BY_EYE = developed(ends=("inspection",), factor=5.0)


def test_a_development_by_appearance_ends_at_its_factor_of_the_first_appearance():
    """Wall, Dictionary of Photography: 45 s x 5 are 3 min 45 s."""
    at = TraysAtHand(routine(BY_APPEARANCE, RINSE))
    at.open("tray")
    at.pass_s(45.0)
    at.do(acts.Mark(what="image appears"))
    at.pass_s(179.5)
    assert at.step() == "Develop"
    at.pass_s(1.0)
    first = at.lane().record.steps[0]
    assert first.why == "appearance"
    assert first.ended_s == pytest.approx(225.0)
    assert at.step() == "Rinse"


def test_the_factor_counts_in_equivalent_time_when_the_bath_drifts_after_the_appearance():
    """20 degC until it appears, 15 degC afterwards: what is left takes 2.36 ^ 0.5 as long."""
    at = TraysAtHand(routine(BY_APPEARANCE), baths={"developer": lambda s: 20.0 if s < 95.0 else 15.0})
    at.open("tray")
    at.pass_s(40.0)
    at.do(acts.Mark(what="image appears"))
    at.pass_s(600.0)
    done = at.records()[0].steps[0]
    assert done.equivalent_s == pytest.approx(200.0, rel=1e-3)
    assert done.ended_s is not None
    # It lay at 20 degC until the jump was believed, some seconds after it came.
    assert done.ended_s - done.started_s == pytest.approx(45.0 + 155.0 * 2.36**0.5, abs=10.0)


def test_a_mark_taken_back_stops_the_factor_clock():
    """An early press of the foot must not end a development."""
    at = TraysAtHand(routine(BY_APPEARANCE))
    at.open("tray")
    at.pass_s(5.0)
    at.do(acts.Mark(what="image appears"))
    assert at.view().due_by == "appearance"
    at.do(acts.TakeBackMark())
    assert at.view().due_by == "ceiling"
    at.pass_s(100.0)
    assert at.lane().is_developing
    with pytest.raises(Refused, match="no mark of this step"):
        at.do(acts.TakeBackMark())


def test_the_first_of_several_endings_ends_it():
    """Time here, for the factor would be later; and a pull before either."""
    either = developed(ends=("time", "appearance", "inspection"), factor=20.0)
    at = TraysAtHand(routine(either))
    at.open("tray")
    at.pass_s(45.0)
    at.do(acts.Mark(what="image appears"))
    at.pass_s(300.0)
    assert at.records()[0].steps[0].why == "time"
    at.open("tray", lane=2)
    at.pass_s(60.0)
    at.do(acts.Pull(lane=2))
    assert at.records()[1].ended == "pulled"


def test_a_development_by_appearance_never_outlasts_its_ceiling_and_is_called_out_there():
    """Without any appearance: 900 s at the reference temperature."""
    at = TraysAtHand(routine(BY_APPEARANCE, RINSE))
    at.open("tray")
    at.pass_s(899.0)
    assert at.lane().is_developing
    from_s = at.clock.now_s()
    at.pass_s(2.0)
    assert at.records()[0].steps[0].why == "ceiling"
    assert "call" in at.tunes_since(from_s)


def test_an_inspection_is_not_ended_by_its_ceiling_but_called_until_the_plate_is_pulled():
    """Only a person can take out a plate on what is seen; every ten seconds the bench calls."""
    at = TraysAtHand(routine(BY_EYE, RINSE))
    at.open("tray")
    at.pass_s(901.0)
    assert at.lane().is_developing
    assert (at.view().state, at.view().needs) == ("due", "pull the plate: it is over its ceiling")
    assert at.view().urgency == 0
    from_s = at.clock.now_s()
    at.pass_s(30.0)
    assert at.tunes_since(from_s).count("call") == 3
    at.do(acts.Pull())
    done = at.records()[0].steps[0]
    assert done.why == "pulled"
    assert done.equivalent_s == pytest.approx(931.0)
    assert at.step() == "Rinse"


def test_a_ceiling_of_the_clock_holds_at_any_temperature():
    """Cold: the equivalent ceiling lies far away, the clock's does not."""
    cold = developed(ends=("appearance",), factor=5.0, longest_s=600.0)
    at = TraysAtHand(routine(cold), baths={"developer": 13.0})
    at.open("tray")
    at.pass_s(601.0)
    done = at.records()[0].steps[0]
    assert done.why == "ceiling"
    assert done.ended_s == pytest.approx(600.0)


def test_moving_a_plate_on_from_over_its_ceiling_is_a_pull():
    """Whatever key it is said with."""
    at = TraysAtHand(routine(BY_EYE, RINSE))
    at.open("tray")
    at.pass_s(905.0)
    at.do(acts.Proceed())
    assert at.records()[0].steps[0].why == "pulled"


def test_a_pull_ends_development_and_starts_the_rinse_clock_at_the_same_instant():
    """Not a microsecond between them."""
    at = TraysAtHand(ALL)
    at.open()
    at.pass_s(77.25)
    at.do(acts.Pull())
    first, second = at.records()[0].steps
    assert first.ended_s == second.started_s


def test_during_inspection_the_factor_and_the_coefficient_stand_beside_the_earlier_plates():
    """Three ways to know, none of which ends it."""
    at = TraysAtHand(routine(BY_EYE))
    at.open("tray", box="spring 1")
    assert [(a.box, a.developer) for a in at.asked] == [("spring 1", "developer")]
    at.bench.book_says(at.asked[0].run_id, [250.0, 310.0, 280.0])
    at.pass_s(45.0)
    at.do(acts.Mark(what="image appears"))
    view = at.view()
    assert view.precedent is not None
    assert (view.precedent.plates, view.precedent.median_s) == (3, 280.0)
    assert (view.precedent.low_s, view.precedent.high_s) == (250.0, 310.0)
    beside = {e.by: e for e in view.endings}
    assert beside["time"].equivalent_s == 300.0
    assert beside["appearance"].equivalent_s == pytest.approx(225.0)
    assert not beside["time"].ends
    assert not beside["appearance"].ends
    assert beside["appearance"].due_s == pytest.approx(at.clock.now_s() + 180.0, abs=0.5)


# --- fixing ---


def fixing(*steps_after_rinse: object) -> TraysAtHand:
    at = TraysAtHand(routine(developed(), *steps_after_rinse, name="all"))  # type: ignore[arg-type]
    at.open()
    at.pass_s(10.0)
    at.do(acts.Pull())
    return at


def test_a_fixer_is_due_at_twice_the_time_to_clear():
    """Wall: twice the time to clear; seen clear after 200 s."""
    at = fixing(FIX)
    assert at.view().due_s is None
    at.pass_s(200.0)
    at.do(acts.Mark(what="plate is clear"))
    assert at.view().due_s == pytest.approx(at.clock.now_s() + 200.0)
    at.pass_s(199.0)
    assert at.lane().record.state == "running"
    at.pass_s(1.5)
    assert at.lane().record.state == "due"
    assert at.lane().record.steps[1].due_s == pytest.approx(10.0 + 400.0)


def test_a_fixer_is_never_due_before_its_least_time():
    """Clear after 20 s, but four minutes at the least."""
    at = fixing(FIX)
    at.pass_s(20.0)
    at.do(acts.Mark(what="plate is clear"))
    at.pass_s(239.0 - 20.0)
    assert at.lane().record.state == "running"
    at.pass_s(2.0)
    assert at.lane().record.state == "due"


def test_a_plate_that_nobody_saw_clear_is_asked_about_and_never_moved_on_by_time():
    """After the least time, each minute."""
    at = fixing(FIX)
    from_s = at.clock.now_s()
    at.pass_s(245.0)
    assert at.view().needs == "look whether the plate is clear"
    at.pass_s(120.0)
    looks = [s - from_s for s, tune in at.tunes if tune == "look"]
    assert looks == pytest.approx([240.0, 300.0, 360.0])
    assert at.lane().record.state == "running"
    at.do(acts.CutShort())
    assert at.records()[0].steps[1].why == "cut short"


def test_the_second_fixer_lasts_as_long_again_as_the_first_took_to_clear():
    """At least its own time."""
    again = replace(FIX, name="Second fixer", bath="hypo 2", clearing="again", time_s=60.0)
    at = fixing(replace(FIX, clearing="once", time_s=30.0), again)
    at.pass_s(100.0)
    at.do(acts.Mark(what="plate is clear"))
    at.pass_s(0.5)
    assert at.lane().record.state == "due"
    at.do(acts.Proceed())
    at.pass_s(99.0)
    assert at.lane().record.state == "running"
    at.pass_s(1.5)
    assert at.lane().record.state == "due"


# --- washing ---


def washing() -> TraysAtHand:
    return fixing(WASH)


def test_each_water_is_called_for_and_its_minute_counts_from_its_change():
    """Three waters of a minute: changed 5 s late, the wash is due 5 s later."""
    at = washing()
    began_s = at.clock.now_s()
    at.pass_s(65.0)
    assert (at.view().needs, at.tunes[-1][1]) == ("change the water", "water")
    wash = at.view().wash
    assert wash is not None
    assert (wash.water, wash.waters) == (1, 3)
    at.do(acts.ChangeWater())
    at.pass_s(60.0)
    at.do(acts.ChangeWater())
    at.pass_s(59.0)
    assert at.lane().record.state == "running"
    at.pass_s(2.0)
    assert at.lane().record.state == "due"
    assert [s - began_s for s, tune in at.tunes if tune == "water"] == pytest.approx([60.0, 125.0])


def test_a_water_that_is_not_changed_is_called_for_again_and_the_wash_waits():
    """A plate in the same water is not washed by waiting."""
    at = washing()
    began_s = at.clock.now_s()
    at.pass_s(400.0)
    assert at.lane().record.state == "running"
    again = [s - began_s for s, tune in at.tunes if tune == "overdue" and s > began_s]
    assert again[:3] == pytest.approx([90.0, 120.0, 150.0])


def test_a_second_press_is_no_second_change():
    """Each water has its time: it can be changed in its last half minute, not before."""
    at = washing()
    at.pass_s(31.0)
    at.do(acts.ChangeWater())
    at.pass_s(1.0)
    with pytest.raises(Refused, match="has its time for another 59 s"):
        at.do(acts.ChangeWater())
    wash = at.view().wash
    assert wash is not None
    assert wash.water == 2


def test_no_water_is_changed_in_a_bath_that_has_but_one():
    at = TraysAtHand(ALL)
    at.open()
    with pytest.raises(Refused, match="no water is to be changed"):
        at.do(acts.ChangeWater())


# --- the temperature window ---


def test_a_bath_outside_its_window_is_warned_of_once_and_kept_in_the_book():
    """In any step where a probe lies in that bath."""
    cold = replace(FIX, low_degC=15.0, clearing=None)
    at = TraysAtHand(
        routine(developed(), cold, name="all"),
        baths={"developer": 20.0, "hypo": lambda s: 15.2 if s < 100.0 else 14.8},
    )
    at.open()
    at.pass_s(5.0)
    at.do(acts.Pull())
    at.pass_s(20.0)
    assert not at.view().is_outside
    from_s = at.clock.now_s()
    at.pass_s(60.0)
    assert at.view().is_outside
    assert at.tunes_since(from_s).count("trouble") == 1
    assert at.events(ev.BathLeftWindow) == [
        ev.BathLeftWindow(step=1, bath_degC=14.8, low_degC=15.0, high_degC=None)
    ]
    assert any("hypo has 14.8 degC; Fix wants at least 15 degC" in words for words in at.view().advice)
    assert at.records()[0].steps[1].left_window


def test_a_bath_without_a_probe_is_not_warned_of_unless_a_person_says_its_temperature():
    """The developer's probe says nothing of the fixer."""
    cold = replace(FIX, low_degC=15.0, clearing=None)
    at = TraysAtHand(routine(developed(), cold, name="all"), baths={"developer": 14.0})
    at.open()
    at.pass_s(5.0)
    at.do(acts.Pull())
    at.pass_s(20.0)
    assert at.view().bath is None
    at.do(acts.SayTemperature(bath_degC=11.0))
    assert at.view().is_outside


def test_the_fixers_temperature_does_not_colour_that_of_the_development():
    """Each step has its own trace."""
    at = TraysAtHand(baths={"developer": 20.0, "hypo": 10.0})
    at.open()
    at.pass_s(20.0)
    at.do(acts.Pull())
    at.pass_s(31.0)
    at.do(acts.Proceed())
    at.pass_s(90.0)
    bath = outcome(at.records()[0]).bath_degC
    assert bath is not None
    assert (bath.min, bath.max) == (20.0, 20.0)
    fix = [s.bath_degC for s in at.records()[0].samples if s.step == 2]
    assert len(fix) == 4
    assert set(fix) == {10.0}
