"""The shipped evening with four plates: outcomes, every cue at its moment, equivalent times, the dark."""

from __future__ import annotations

import asyncio
import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count, pairwise, takewhile

import pytest

from firmware_py.craft.routine import Step
from firmware_py.facts.events import run as ev
from firmware_py.journal.verify import verify
from firmware_py.rehearsal.script import shipped_script
from tests.bench.rehearsing import Rehearsed, play

LATE_S = 0.05
DARK, BY_TIME, BY_APPEARANCE, BY_EYE = (
    "Harbour lamps 3",
    "Skarnholm light 12",
    "Kvarnvik jetty 4",
    "Boathouse door 9",
)


@pytest.fixture(scope="module")
def evening(tmp_path_factory) -> Rehearsed:
    return asyncio.run(play(tmp_path_factory.mktemp("evening"), shipped_script("four-plates")))


# --- what came of the plates ---


def test_four_plates_go_through_two_developers_and_their_fixers_to_the_end(evening: Rehearsed):
    runs = evening.came["runs"]
    assert [run["state"] for run in runs] == ["ended"] * 4
    baths = {(step["kind"], step["bath"]) for run in runs for step in run["steps"]}
    assert len([bath for kind, bath in baths if kind == "develop"]) == 2
    assert len([bath for kind, bath in baths if kind == "fix"]) == 3
    assert evening.came["refused"] == []


def test_each_development_ended_in_its_own_way(evening: Rehearsed):
    assert {name: evening.run(name)["ended"] for name in (DARK, BY_TIME, BY_APPEARANCE, BY_EYE)} == {
        DARK: "time",
        BY_TIME: "time",
        BY_APPEARANCE: "appearance",
        BY_EYE: "pulled",
    }
    by_time, by_appearance, by_eye = (evening.run(n) for n in (BY_TIME, BY_APPEARANCE, BY_EYE))
    assert by_time["equivalent_s"] == pytest.approx(by_time["target_s"], rel=1e-9)
    assert by_appearance["equivalent_s"] == pytest.approx(5.25 * by_appearance["appeared_s"], rel=1e-9)
    assert by_eye["plates"] == ("Boathouse door 9", "Boathouse door 10")
    shadow = next(m for m in by_eye["marks"] if m["what"] == "shadow detail shows")
    assert 0.0 < by_eye["elapsed_s"] - shadow["elapsed_s"] <= 2.5


def test_the_plate_washed_in_waters_had_all_six(evening: Rehearsed):
    wash = next(s for s in evening.run(BY_EYE)["steps"] if s["kind"] == "wash")
    assert (wash["waters"], wash["planned_s"]) == (6, 1800.0)
    assert wash["elapsed_s"] > 1800.0  # each change came a little late, and each water had its five minutes


def test_the_fixers_were_left_at_twice_the_clearing_or_their_least_time(evening: Rehearsed):
    """Wall: twice the time to clear."""
    for name, least_s in ((BY_APPEARANCE, 480.0), (BY_EYE, 600.0)):
        fix = next(s for s in evening.run(name)["steps"] if s["kind"] == "fix")
        assert fix["elapsed_s"] >= max(least_s, 2 * fix["cleared_s"])


# --- equivalent time, independently ---


def exact_integral(points: list[tuple[float, float]], ln_per_K: float, reference_degC: float) -> float:
    """The integral of the exponential rate along straight lines between readings: no quadrature."""
    total = 0.0
    for (t0, b0), (t1, b1) in pairwise(points):
        slope = ln_per_K * (b1 - b0)
        start = math.exp(ln_per_K * (b0 - reference_degC)) * (t1 - t0)
        total += start * (math.expm1(slope) / slope if abs(slope) > 1e-12 else 1.0)
    return total


def readings(entries: list[ev.Entry]) -> list[tuple[float, float]]:
    """Return the development's journaled temperatures (boot s, degC)."""
    points: list[tuple[float, float]] = []
    step, routine = -1, None
    for entry in entries:
        event = entry.event
        if isinstance(event, ev.RunOpened):
            routine = event.routine
        if isinstance(event, ev.StepStarted):
            step = event.step
        is_here = routine is not None and step >= 0 and routine.steps[step].development is not None
        degrees = getattr(event, "bath_degC", None)
        told = isinstance(event, ev.StepStarted | ev.TemperatureRead | ev.StepEnded)
        if is_here and told and degrees is not None:
            points.append((entry.boot_s, degrees))
    return points


def test_equivalent_times_are_right_to_a_thousandth(evening: Rehearsed):
    """Against the exact integral of what the journal holds."""
    for run in evening.came["runs"]:
        points = readings(evening.entries[run["run_id"]])
        assert len(points) > 250
        exact = exact_integral(points, run["rate_per_K"], run["reference_degC"])
        assert run["equivalent_s"] == pytest.approx(exact, rel=1e-3)


# --- every cue at its moment ---


@dataclass
class Went:
    """A step as it went by the journal alone, in seconds of the boot clock."""

    plan: Step
    start_s: float
    due_s: float | None = None
    end_s: float = math.inf
    cleared_s: float | None = None
    cleared_before_s: float | None = None
    changed_s: tuple[float, ...] = ()


def steps(entries: list[ev.Entry]) -> list[Went]:
    """Return the steps of a run."""
    opened = entries[0].event
    assert isinstance(opened, ev.RunOpened)
    went: list[Went] = []
    for entry in entries:
        match entry.event:
            case ev.StepStarted(step=step):
                took = [w.cleared_s - w.start_s for w in went if w.cleared_s is not None]
                before_s = took[-1] if took else None
                went.append(Went(opened.routine.steps[step], entry.boot_s, cleared_before_s=before_s))
            case ev.StepFellDue():
                went[-1].due_s = entry.boot_s
            case ev.StepEnded():
                went[-1].end_s = entry.boot_s
            case ev.MarkMade(what="plate is clear"):
                went[-1].cleared_s = entry.boot_s
            case ev.WaterChanged():
                went[-1].changed_s = (*went[-1].changed_s, entry.boot_s)
    return went


def due_of(step: Went) -> float:
    """Return when a step should have been due, from its plan and what happened in it."""
    if step.plan.development is not None:
        return step.end_s
    if step.plan.clearing == "twice":
        assert step.cleared_s is not None
        return step.start_s + max(step.plan.time_s, 2 * (step.cleared_s - step.start_s))
    if step.plan.clearing == "again":
        assert step.cleared_before_s is not None
        return step.start_s + max(step.plan.time_s, step.cleared_before_s)
    return max((step.start_s, *step.changed_s)) + step.plan.time_s


def expected(step: Went) -> Iterator[tuple[float, str]]:
    """Give the cues that a step should have had, but for the half minute of a development."""
    due_s, plan = due_of(step), step.plan
    if plan.agitate_every_s:
        rocks = (step.start_s + turn * plan.agitate_every_s for turn in count(1))
        for turn, at_s in enumerate(takewhile(lambda at_s: at_s < due_s - 1.0, rocks), 1):
            yield at_s, "left" if turn % 2 else "right"
    for before_s, after_s in pairwise((step.start_s, *step.changed_s)):
        yield before_s + plan.time_s, "water"
        late = takewhile(lambda at_s: at_s < after_s, (before_s + plan.time_s + 30.0 * n for n in count(1)))  # noqa: B023 - used at once
        yield from ((at_s, "overdue") for at_s in late)
    if due_s > step.end_s + LATE_S:
        return  # cut short
    if plan.development is None and due_s - step.start_s > 60.0:
        yield due_s - 30.0, "soon"
    if plan.development is None or step.plan.development.ends != ("inspection",):  # type: ignore[union-attr]
        yield due_s, "now"
    over = takewhile(lambda at_s: at_s < step.end_s, (due_s + 30.0 * n for n in count(1)))
    yield from ((at_s, "overdue") for at_s in over)


def test_every_cue_sounded_at_its_moment_and_no_other_did(evening: Rehearsed):
    """Within 50 ms of the simulated clock, over the sounder's own record."""
    went = [step for run in evening.came["runs"] for step in steps(evening.entries[run["run_id"]])]
    wanted = [cue for step in went for cue in expected(step)]
    developing = [(s.start_s, s.end_s) for s in went if s.plan.development is not None]
    for tune in ("left", "right", "water", "overdue", "now", "look", "call"):
        at_s = sorted(s for s, name in wanted if name == tune)
        heard_s = sorted(s for s, name in evening.sounds if name == tune)
        assert len(heard_s) == len(at_s), tune
        assert all(abs(a - b) <= LATE_S for a, b in zip(at_s, heard_s, strict=True)), tune
    soon = [s for s, name in evening.sounds if name == "soon"]
    plain = sorted(s for s, name in wanted if name == "soon")
    assert all(any(abs(s - one) <= LATE_S for s in soon) for one in plain)
    # The three that end by themselves; the half minute of an inspection is that of its ceiling, far away.
    assert len(soon) == len(plain) + 3
    assert len(developing) == 4


def test_the_half_minute_of_a_development_is_half_a_minute_by_its_own_readings(evening: Rehearsed):
    """What is left of the equivalent time, at the rate of the last reading, is 30 s when it sounds."""
    soon = [s for s, name in evening.sounds if name == "soon"]
    for run in evening.came["runs"]:
        if run["ended"] == "pulled":
            continue
        points = readings(evening.entries[run["run_id"]])
        ln_per_K, reference = run["rate_per_K"], run["reference_degC"]
        wanted = run["equivalent_s"]
        told = [s for s in soon if points[0][0] < s < points[-1][0]]
        lefts = []
        for at_s in told:
            before = [p for p in points if p[0] <= at_s]
            done = exact_integral([*before, (at_s, before[-1][1])], ln_per_K, reference)
            rate = math.exp(ln_per_K * (before[-1][1] - reference))
            lefts.append((wanted - done) / rate)
        assert any(abs(left - 30.0) <= LATE_S for left in lefts), run["plate"]


# --- the dark ---


def test_the_safelight_was_out_while_the_panchromatic_plate_was_open(evening: Rehearsed):
    """Interlock 2: from the opening of its run until it had left its last fixer."""
    run_id = evening.run(DARK)["run_id"]
    opened_s = evening.entries[run_id][0].boot_s
    fixed_s = max(s.end_s for s in steps(evening.entries[run_id]) if s.plan.kind == "fix")
    session = evening.entries[evening.came["session"]]
    switched = [(e.boot_s, e.event.on) for e in session if isinstance(e.event, ev.RelaySwitched)]
    assert [on for _, on in switched] == [True, False, True]
    assert switched[1][0] == pytest.approx(opened_s, abs=0.001)
    assert switched[2][0] > fixed_s


def test_the_journal_of_the_evening_is_whole(evening: Rehearsed):
    assert verify(evening.path).faults == []
