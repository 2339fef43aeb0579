"""Interlock 2: the safelight goes out, and stays out, while a plate is open that it would fog."""

from __future__ import annotations

import pytest

from firmware_py.bench.interlocks.safelight import LitPlate, objection, warning
from firmware_py.bench.show import show
from firmware_py.bench.upkeep.plate_light import SAFELIGHT, SafelightTest
from firmware_py.bench.upkeep.plates import PlateRule
from firmware_py.bench.upkeep.upkeep import UpkeepPlan
from firmware_py.craft.refusal import Refused
from firmware_py.craft.safelight import Budget
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import plate as pe
from firmware_py.facts.events import run as ev
from firmware_py.journal.run_record import RunRecord
from tests.bench.upkeep_at_hand import UpkeepAtHand

# 4 and 8 min: safe for 2.83 min (half of their geometric mean), as printed in the standard's example.
TEST = SafelightTest("home ripened", 240.0, 480.0)
SAFE_S = TEST.safe_s


def bench_with(sensitivity: str | None = "blue", emulsion: str = "home ripened") -> UpkeepAtHand:
    rule = PlateRule("English half plate", emulsion, sensitivity)  # type: ignore[arg-type]
    return UpkeepAtHand(plan=UpkeepPlan(plates=rule, safelight_tests=(TEST,)))


def is_lit(at: UpkeepAtHand) -> bool:
    return at.switchboard.is_on(SAFELIGHT)


def light(at: UpkeepAtHand):
    view = show(at.bench).lanes[0].light
    assert view is not None
    return view


def plate(**changes: object) -> LitPlate:
    plain = {
        "plate": "p",
        "lane": 1,
        "sensitivity": "blue",
        "dark": False,
        "budget": None,
        "whereabouts": "wet",
    }
    return LitPlate(**{**plain, **changes})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("one", "words"),
    [
        (plate(), ""),
        (plate(sensitivity=None), ""),
        (plate(sensitivity="orthochromatic"), ""),
        (plate(sensitivity="panchromatic", dark=True), "open in run 1 and panchromatic"),
        (plate(dark=True), "needs total darkness"),
        (plate(budget=Budget(0.99, {})), ""),
        (plate(budget=Budget(1.0, {})), "has used up its safe time"),
    ],
)
def test_the_rule_itself(one, words):
    against = objection([plate(), one])
    assert (against is not None and words in against.why) if words else against is None


def test_what_to_do_about_the_safelight_goes_by_where_the_plate_is():
    """A wet plate is never sent back into its box."""
    at = bench_with("panchromatic")
    at.open()
    at.turn()
    assert "fix it in the dark; or put it back into its box and give up its run" in at.words_standing
    ways_out = {}
    for _ in ("Develop, and by itself into the rinse", "Fix"):
        at.proceed()
        at.turn()
        step = show(at.bench).lanes[0].steps[show(at.bench).lanes[0].step].name
        ways_out[step] = at.words_standing.partition("panchromatic: ")[2].partition("\n")[0]
        at.pass_s(161.0)
    assert ways_out == {"Develop": "fix it in the dark", "Fix": "wait in the dark until it is fixed"}


@pytest.mark.parametrize(("used", "warned"), [(0.749, False), (0.75, True), (0.999, True), (1.0, False)])
def test_the_warning_comes_at_three_quarters_and_gives_way_to_the_dark(used, warned):
    assert bool(warning(plate(budget=Budget(used, {})))) is warned


def test_a_panchromatic_plate_puts_the_safelight_out_and_keeps_it_out_until_it_is_fixed():
    """Refused with the plate and the way out; a fixed plate bears light again."""
    at = bench_with("panchromatic")
    at.safelight(on=True)
    assert is_lit(at)
    at.open()
    at.turn()
    assert not is_lit(at)
    assert "Interlock 2: the safelight is off while plate 'Kvarnvik 3' is open in run 1" in at.words_standing
    assert at.tunes[-1] == "trouble"
    with pytest.raises(Refused, match=r"interlock 2: the safelight stays off.*allowed: fix it in the dark"):
        at.safelight(on=True)
    at.proceed()
    at.pass_s(130.0)
    at.pass_s(31.0)
    at.proceed()
    with pytest.raises(Refused, match="interlock 2"):
        at.safelight(on=True)
    at.pass_s(301.0)
    at.proceed()
    at.safelight(on=True)
    assert is_lit(at)
    assert "Interlock 2" not in at.words_standing


def test_a_plate_put_back_into_its_box_lets_the_light_on():
    at = bench_with("panchromatic")
    at.open()
    at.do(acts.Abandon())
    at.safelight(on=True)
    assert is_lit(at)


def test_a_plate_said_to_be_panchromatic_afterwards_puts_it_out_at_once():
    at = bench_with(None)
    at.safelight(on=True)
    at.open()
    at.do(ua.DescribePlate(sensitivity="panchromatic"))
    at.turn()
    assert not is_lit(at)


def test_the_budget_warns_at_three_quarters_and_puts_the_light_out_when_it_is_used_up():
    """To the second by the simulated clock, at the moments the bench itself asks for."""
    at = bench_with()
    at.safelight(on=True)
    at.open()
    opened_s = at.clock.now_s()
    at.pass_s(0.74 * SAFE_S)
    assert "safelight" not in at.words_standing
    at.pass_s(0.02 * SAFE_S)
    assert "Kvarnvik 3 has used 75 % of its safe time: safelight off soon" in at.words_standing
    assert "soon" in at.tunes
    at.pass_s(0.24 * SAFE_S + 2.0)
    (went_out_s,) = [moment for moment, relay, on in at.throws if relay == SAFELIGHT and not on]
    assert went_out_s - opened_s == pytest.approx(SAFE_S, abs=0.1)
    assert "has used up its safe time" in at.words_standing
    with pytest.raises(Refused, match="interlock 2"):
        at.safelight(on=True)


def test_only_lit_time_counts_and_every_plate_has_its_own():
    at = bench_with()
    at.open("first")
    at.pass_s(100.0)
    at.safelight(on=True)
    at.pass_s(30.0)
    at.open("second")
    at.pass_s(20.0)
    at.safelight(on=False)
    at.pass_s(60.0)
    first, second = (lane.light for lane in show(at.bench).lanes)
    assert first is not None
    assert second is not None
    assert first.used == pytest.approx(50.0 / SAFE_S, abs=0.1 / SAFE_S)
    assert second.used == pytest.approx(20.0 / SAFE_S, abs=0.1 / SAFE_S)
    assert first.left_s == pytest.approx(SAFE_S - 50.0, abs=0.1)
    assert not first.lit


def test_the_log_alone_reproduces_the_light_and_says_it_again_every_minute():
    """So that a crash leaves at most a minute unknown, and that is counted."""
    at = bench_with()
    at.safelight(on=True)
    at.open()
    at.pass_s(130.0)
    told = [entry.boot_s for entry in at.entries if isinstance(entry.event, pe.LightFell)]
    assert len(told) == 3
    run_id = at.bench.runs.opened[0]
    record = RunRecord.replay([entry for entry in at.entries if entry.subject == run_id])
    (time,) = record.light.times(record.run_s)
    assert time.time_s == pytest.approx(told[-1] - told[0])


def test_without_a_test_nothing_is_reckoned_and_it_is_said():
    at = bench_with(emulsion="batch 9")
    at.safelight(on=True)
    at.open()
    at.pass_s(4000.0, step_s=10.0)
    assert is_lit(at)
    assert light(at).used is None
    assert "No safelight test of batch 9" in light(at).words


def test_a_fixed_plate_gets_no_more_light_into_its_book():
    at = bench_with(emulsion="batch 9")
    at.safelight(on=True)
    at.whole_run("Kvarnvik 3")
    record = at.lane.record
    assert record.state == "ended"
    assert not record.light.is_lit_by(SAFELIGHT)
    assert show(at.bench).lanes[0].light is None


def test_the_light_is_back_for_a_person_only():
    """When the plate is fixed nobody switches by himself (and after a start, see interlock 6)."""
    at = bench_with("panchromatic")
    at.safelight(on=True)
    at.whole_run("Kvarnvik 3")
    at.pass_s(60.0)
    assert not is_lit(at)
    assert ev.RelaySwitched(
        relay=SAFELIGHT,
        on=False,
        why="interlock 2: plate 'Kvarnvik 3' is open in run 1 and panchromatic",
    ) in at.events(ev.RelaySwitched)
