"""Whether white light may come on: interlocks, view, screen and gate agree, whatever the routine."""

from __future__ import annotations

import json
from typing import get_args

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.interlocks.open_plate import open_plates
from firmware_py.bench.show import show
from firmware_py.craft.light_allowed import STEP_KINDS, Sensitivity, darkest
from firmware_py.craft.routine import Light, Routine, Step
from firmware_py.devices.clock import SimulatedClock
from firmware_py.facts.acts.run import OpenRun
from firmware_py.facts.events.plate import PlateDescribed
from firmware_py.facts.events.run import RunEnded, StepEnded, StepStarted, TemperatureRead
from tests.bench.trays_at_hand import BY_TIME
from tui.gate.still_open import is_open
from tui.moment import Moment
from tui.pages.shared.bench_words import room_light
from tui.pages.trays.words import light_words


@st.composite
def steps(draw) -> Step:
    kind = draw(st.sampled_from(sorted(STEP_KINDS)))
    light = draw(st.sampled_from(get_args(Light)))
    develops = {"development": BY_TIME} if kind == "develop" else {"time_s": 60.0}
    return Step(name=kind.title(), kind=kind, bath=f"bath of {kind}", light=light, **develops)


@st.composite
def routines(draw) -> Routine:
    made = tuple(draw(st.lists(steps(), min_size=1, max_size=6)))
    return Routine("drawn", "drawn", "own", made, sheet=draw(st.sampled_from(["plate", "paper"])))


def at_place(made: Routine, place: float, sensitivity: str | None, dark: bool) -> Bench:
    """Return a bench with one run that has come ``place`` of the way through its routine."""
    bench = Bench(BenchPlan({made.name: made}, relays=("safelight",)), SimulatedClock(start_s=50.0))
    lane = bench.runs.open(OpenRun(plate="drawn plate", routine=made.name, dark=dark), rehearsal=False)
    if made.sheet == "plate":
        described = PlateDescribed(size="half", area_cm2=180.0, sensitivity=sensitivity)  # type: ignore[arg-type]
        bench.scribe.write(lane.record, described)
    begun = round(place * (len(made.steps) + 1))
    for step in range(min(begun, len(made.steps))):
        if step:
            bench.scribe.write(lane.record, StepEnded(step=step - 1, why="cut short"))
        bench.scribe.write(lane.record, StepStarted(step=step))
        bench.scribe.write(lane.record, TemperatureRead(bath_degC=20.0, tolerance_K=0.5, source="hand"))
    if begun > len(made.steps):
        bench.scribe.write(lane.record, StepEnded(step=begun - 2, why="cut short"))
        bench.scribe.write(lane.record, RunEnded(ended="time"))
    return bench


@settings(max_examples=150, deadline=None)
@given(routines(), st.floats(0.0, 1.0), st.sampled_from([None, *get_args(Sensitivity)]), st.booleans())
def test_no_two_that_ask_get_different_answers(made, place, sensitivity, dark):
    bench = at_place(made, place, sensitivity, dark)
    (lane,) = bench.runs.lanes.values()
    view = show(bench)
    (shown,) = view.lanes
    raw = json.loads(msgspec.json.encode(view))

    is_white = lane.light == "white"
    assert shown.light_allowed == view.light_allowed == lane.light
    assert lane.is_open is shown.is_open is is_open(raw["lanes"][0]) is not is_white
    assert bool(open_plates([lane])) is (not is_white and made.sheet == "plate")
    assert (bench.upkeep.light.objection([lane]) is not None) is (lane.light == "dark")
    assert (shown.light is not None) is (not is_white and made.sheet == "plate")
    moment = Moment(view, now_s=50.0)
    assert room_light(moment) == (
        "White light: allowed" if is_white else "WHITE LIGHT: NOT YET, run 1 is open"
    )
    assert ("fixed" in light_words(shown)) is (is_white and shown.state != "ended")
    to_come = made.steps[lane.record.next_step :]
    if any(step.kind == "fix" for step in to_come):
        assert not is_white


def test_the_room_gets_one_answer_for_all_runs():
    """The least that any of them allows; named by run, those that are over or fixed not among them."""
    fixed = Routine("fixed", "fixed", "own", (Step("Fix", "fix", "hypo", time_s=60.0),))
    bench = Bench(BenchPlan({"fixed": fixed}, relays=("safelight",)), SimulatedClock(start_s=50.0))
    for plate in ("one", "two", "three"):
        bench.runs.open(OpenRun(plate=plate, routine="fixed"), rehearsal=False)
    assert room_light(Moment(show(bench), 50.0)) == "WHITE LIGHT: NOT YET, runs 1, 2, 3 are open"
    for number in (1, 3):
        bench.runs.abandon(bench.runs.lanes[number])
    view = show(bench)
    assert room_light(Moment(view, 50.0)) == "WHITE LIGHT: NOT YET, run 2 is open"
    assert view.light_allowed == darkest(lane.light_allowed for lane in view.lanes) == "safelight"
