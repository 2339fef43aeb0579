"""The bench: what it does when people, probes and time come to it."""

from __future__ import annotations

import math

import pytest

from firmware_py.bench.show import show
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import run as ev
from firmware_py.journal.run_record import RunRecord
from tests.bench.bench_at_hand import PROBE, BenchAtHand


def test_a_development_ends_by_itself_at_its_target_and_the_rinse_begins_at_once():
    """At the reference temperature 120 s are 120 s."""
    at = BenchAtHand(20.0)
    at.open_and_start()
    at.pass_s(119.9)
    assert at.lane.is_developing
    at.pass_s(0.2)
    developed = at.lane.record.development
    assert developed is not None
    assert developed.ended_s == pytest.approx(120.0, abs=1e-6)
    assert developed.why == "time"
    assert at.lane.plan is not None
    assert at.lane.plan.name == "Rinse"


def test_a_warm_bath_shortens_and_a_cold_one_lengthens_the_development():
    """By the ratio of the rates: 2.36 for ten kelvin."""
    lasted = {}
    for bath in (15.0, 25.0):
        at = BenchAtHand(bath)
        at.open_and_start()
        at.pass_s(400.0)
        developed = at.lane.record.development
        assert developed is not None
        assert developed.ended_s is not None
        lasted[bath] = developed.ended_s - developed.started_s
    assert lasted[15.0] / lasted[25.0] == pytest.approx(2.36, rel=1e-9)


def test_other_steps_fall_due_and_wait_for_the_person():
    """A rinse over its time stays a rinse until the plate is moved on."""
    at = BenchAtHand()
    at.open_and_start()
    at.pass_s(120.0 + 30.0 + 45.0)
    assert at.lane.record.state == "due"
    assert at.lane.plan is not None
    assert at.lane.plan.name == "Rinse"
    at.do(acts.Proceed())
    assert at.lane.plan.name == "Fix"
    rinse = at.lane.record.steps[1]
    assert rinse.ended_s is not None
    assert rinse.ended_s - rinse.started_s == pytest.approx(75.0)


def test_a_pull_ends_development_and_starts_the_rinse_at_the_same_moment():
    """Nothing is lost between the two clocks."""
    at = BenchAtHand()
    at.open_and_start()
    at.pass_s(60.0)
    at.do(acts.Pull())
    developed, rinse = at.lane.record.steps
    assert (developed.why, developed.ended_s) == ("pulled", rinse.started_s)
    assert developed.equivalent_s == pytest.approx(60.0)


def test_the_run_is_over_after_its_last_step_and_says_how_it_developed():
    """The end of the run carries the end of the development."""
    at = BenchAtHand()
    at.open_and_start()
    at.pass_s(50.0)
    at.do(acts.Pull())
    for seconds in (31.0, 301.0):
        at.pass_s(seconds)
        at.do(acts.Proceed())
    assert at.lane.record.state == "ended"
    assert at.events[-1] == ev.RunEnded(ended="pulled")


def test_the_journal_alone_gives_the_live_run_to_the_last_digit():
    """Replaying what was written makes the very record that the screen shows."""
    at = BenchAtHand(18.3)
    at.open_and_start()
    at.pass_s(20.5)
    at.do(acts.Mark(what="image appears"))
    at.bath_degC = 18.7
    at.pass_s(200.0)
    run_id = at.lane.record.run_id
    replayed = RunRecord.replay([e for e in at.entries if e.subject == run_id])
    assert replayed == at.lane.record


# --- temperature in trouble (interlock 7) ---


def test_a_silent_probe_never_stops_the_timer():
    """The development goes on by the bath's trend and ends near the right moment."""
    at = BenchAtHand(20.0)
    at.open_and_start()
    at.pass_s(30.0)
    at.bath_degC = None
    at.pass_s(100.0)
    developed = at.lane.record.development
    assert developed is not None
    assert developed.ended_s == pytest.approx(120.0, abs=1.0)
    assert any(isinstance(e, ev.ProbeFellSilent) for e in at.events)
    sources = {s.source for s in at.lane.record.samples}
    assert sources == {"probe", "trend"}


def test_two_missed_readings_are_said_long_before_the_probe_counts_as_silent_and_a_good_one_ends_it():
    """Found by the storm: for five seconds the page of a timer told nothing of a probe that was gone."""
    at = BenchAtHand(20.0)
    at.open_and_start()
    at.pass_s(10.0)

    def said() -> list[str]:
        return [notice.words for notice in show(at.bench).notices if "gives no reading" in notice.words]

    at.bath_degC = None
    at.pass_s(1.0)
    assert said() == []
    at.pass_s(1.0)
    assert said() == [f"Probe {PROBE} gives no reading: no wire"]
    at.bath_degC = 20.0
    at.pass_s(1.0)
    assert said() == []
    at.bath_degC = None
    at.pass_s(6.0)
    assert said() == []
    assert any("is silent" in notice.words for notice in show(at.bench).notices)


def test_the_uncertainty_grows_while_the_probe_is_silent():
    """What is only believed is believed less and less."""
    at = BenchAtHand(19.0)
    at.open_and_start()
    at.pass_s(30.0)
    sure = show(at.bench).lanes[0].doubt_s
    at.bath_degC = None
    at.pass_s(60.0)
    unsure = show(at.bench).lanes[0].doubt_s
    assert sure is not None
    assert unsure is not None
    assert unsure > sure


def test_a_temperature_by_hand_counts_while_the_probe_is_silent_and_not_while_it_speaks():
    """The person's thermometer takes the place of the probe, never its contradiction."""
    at = BenchAtHand(20.0)
    at.open_and_start()
    at.pass_s(5.0)
    with pytest.raises(Refused, match="by hand only while the probe is silent"):
        at.do(acts.SayTemperature(bath_degC=18.0))
    at.bath_degC = None
    at.pass_s(10.0)
    at.do(acts.SayTemperature(bath_degC=18.0))
    assert at.lane.believed(at.clock.now_s()).bath_degC == 18.0
    assert show(at.bench).lanes[0].bath is not None
    assert at.lane.record.samples[-1].source == "hand"


def test_a_probe_that_speaks_again_is_believed_again():
    """And the book says when."""
    at = BenchAtHand(20.0)
    at.open_and_start()
    at.pass_s(10.0)
    at.bath_degC = None
    at.pass_s(20.0)
    at.bath_degC = 19.8
    at.pass_s(2.0)
    assert at.lane.believed(at.clock.now_s()).source == "probe"
    assert ev.ProbeSpokeAgain(probe=PROBE, bath_degC=19.8) in at.events


def test_a_jump_that_no_bath_can_make_is_not_believed_until_it_stays():
    """Ten kelvin in a second is a fault; ten kelvin that last are a new bath."""
    at = BenchAtHand(20.0)
    at.open_and_start()
    at.pass_s(10.0)
    at.bath_degC = 30.0
    at.pass_s(3.0)
    assert at.lane.believed(at.clock.now_s()).bath_degC == pytest.approx(20.0)
    at.pass_s(5.0)
    assert at.lane.believed(at.clock.now_s()).bath_degC == 30.0


def test_without_any_thermometer_the_reference_is_assumed_and_said_to_be():
    """The plate is in the bath: the timer starts, and the screen asks for the temperature."""
    at = BenchAtHand(None, probe=False)
    at.open_and_start()
    at.pass_s(30.0)
    view = show(at.bench).lanes[0]
    assert view.bath is not None
    assert view.bath.source == "assumed"
    assert any("only assumed" in words for words in view.advice)
    at.do(acts.SayTemperature(bath_degC=17.0))
    at.pass_s(10.0)
    assert at.lane.believed(at.clock.now_s()).bath_degC == pytest.approx(17.0)


def test_a_bath_outside_the_tested_range_goes_on_by_the_law_and_is_said_to_be():
    """Never extrapolated in silence; the doubt is larger than inside the range."""
    at = BenchAtHand(11.0, beyond="law")
    at.open_and_start()
    at.pass_s(10.0)
    view = show(at.bench).lanes[0]
    assert view.rate == pytest.approx(2.36 ** ((11.0 - 20.0) / 10))
    assert view.outside_K == pytest.approx(-2.0)
    assert any("OUTSIDE THE TESTED RANGE: 11.0 degC, 2.0 K below 13 to 25" in said for said in view.advice)
    # probe 0.5 K at 0.0859 per K, and 2 K beyond the range at half that slope
    share = math.log(2.36) / 10 * math.hypot(0.5, 0.5 * 2.0)
    lasts_s = (view.due_s or 0.0) - (view.started_s or 0.0)
    assert view.doubt_s == pytest.approx(share * lasts_s, rel=0.2)


def test_a_plan_from_before_holds_the_edges_rate_and_says_so():
    at = BenchAtHand(11.0)
    at.open_and_start()
    at.pass_s(10.0)
    view = show(at.bench).lanes[0]
    assert view.rate == pytest.approx(2.36 ** ((13.0 - 20.0) / 10))
    assert any("counted as at the nearer end" in words for words in view.advice)


# --- foot ---


def test_the_foot_starts_marks_pulls_and_moves_on():
    """Everything of a run can be done by foot alone."""
    at = BenchAtHand()
    at.do(acts.OpenRun(plate="Kvarnvik 3", routine="plain"))
    at.press()
    assert at.lane.is_developing
    at.pass_s(20.0)
    at.press()
    assert [m.what for m in at.lane.record.marks] == ["image appears"]
    at.pass_s(5.0)
    at.press(held_s=1.0)
    assert at.lane.record.steps[0].why == "pulled"
    at.pass_s(31.0)
    at.press()
    assert at.lane.plan is not None
    assert at.lane.plan.name == "Fix"


def test_a_start_by_foot_counts_from_the_moment_it_goes_down():
    """A slow foot does not cost the plate half a second."""
    at = BenchAtHand()
    at.do(acts.OpenRun(plate="Kvarnvik 3", routine="plain"))
    at.foot(down=True)
    assert at.lane.is_developing


def test_a_foot_switch_that_stays_down_is_said_and_ignored_until_released():
    """Interlock 5."""
    at = BenchAtHand()
    at.open_and_start()
    at.foot(down=True)
    at.pass_s(11.0)
    assert at.bench.foot.stuck
    assert any("foot switch" in n.words for n in show(at.bench).notices)
    at.foot(down=False)
    at.pass_s(1.0)
    assert not any("foot switch" in n.words for n in show(at.bench).notices)


# --- refusals ---


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (acts.Pull(), "no run lies there"),
        (acts.OpenRun(plate="x", routine="plane"), "no routine 'plane'"),
        (acts.Focus(lane=4), "no run lies there"),
    ],
)
def test_an_act_that_cannot_be_done_says_why_and_writes_nothing(act: acts.AnyAct, words: str):
    """One line: what, where, what is allowed."""
    at = BenchAtHand()
    before = len(at.entries)
    with pytest.raises(Refused, match=words):
        at.do(act)
    assert len(at.entries) == before


def test_moving_on_during_a_development_is_refused_with_the_way_out():
    """Pulling is a word of its own."""
    at = BenchAtHand()
    at.open_and_start()
    with pytest.raises(Refused, match=r"cannot move on while Develop goes on; allowed: .* pull it out"):
        at.do(acts.Proceed())


# --- after a restart ---


def test_a_run_taken_up_on_the_same_machine_start_has_lost_no_second():
    """The boot clock went on while nobody looked."""
    at = BenchAtHand(20.0)
    at.open_and_start()
    at.pass_s(40.0)
    record = RunRecord.replay([e for e in at.entries if e.subject == at.lane.record.run_id])

    again = BenchAtHand(20.0)
    again.clock.boot_id = at.clock.boot_id
    again.clock.jump_to(at.clock.now_s() + 3.0)
    again.bench.runs.resume(record)
    again.pass_s(200.0)
    developed = record.development
    assert developed is not None
    assert developed.ended_s == pytest.approx(120.0, abs=0.5)
    assert developed.equivalent_s == pytest.approx(120.0, abs=0.5)


def test_a_run_from_before_a_power_cut_waits_for_a_person():
    """Its likely time away is offered; the person's word replaces it, with its doubt."""
    at = BenchAtHand(20.0)
    at.open_and_start()
    at.pass_s(40.0)
    record = RunRecord.replay([e for e in at.entries if e.subject == at.lane.record.run_id])

    again = BenchAtHand(20.0)
    again.bench.runs.resume(record)
    assert show(again.bench).lanes[0].state == "interrupted"
    with pytest.raises(Refused, match="waits to be taken up"):
        again.do(acts.Proceed())
    again.do(acts.TakeUp(away_s=30.0, doubt_s=3.0))
    assert record.run_s == pytest.approx(70.0)
    assert record.doubt_s == 3.0
    again.pass_s(60.0)
    developed = record.development
    assert developed is not None
    assert developed.ended_s == pytest.approx(120.0, abs=0.5)
