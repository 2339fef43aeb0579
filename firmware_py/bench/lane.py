"""One tray with its run: when its step is due, what it will say next, what the foot means in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from firmware_py.bench.cues import Cue, overdue, schedule
from firmware_py.bench.resume import Away
from firmware_py.bench.thermometry import ASSUMED_TOLERANCE_K, Belief, Thermometer
from firmware_py.craft.routine import Step
from firmware_py.craft.temperature import Rate, doubt, held_rate, time_left_along
from firmware_py.journal.run_record import RunRecord, StepRecord, development_rate

# How often the temperature that is only believed is put into the run while no probe speaks.
TREND_EVERY_S = 1.0


@dataclass(slots=True)
class Lane:
    """A run in tray ``number``, and the thermometer that serves it.

    ``away`` is set while a run waits to be taken up again after the machine had stopped.
    """

    number: int
    record: RunRecord
    thermometer: Thermometer
    away: Away | None = None
    cued_s: float = 0.0
    _given: set[str] = field(default_factory=set)

    @property
    def here(self) -> StepRecord | None:
        """Get the step going on."""
        return self.record.here

    @property
    def plan(self) -> Step | None:
        """Get the plan of the step going on, or of the one that comes next; None after the last."""
        steps = self.record.routine.steps
        number = self.record.next_step
        return steps[number] if number < len(steps) else None

    @property
    def target_s(self) -> float | None:
        """Get the equivalent time [s] wanted of the development that goes on or comes next, in its bath."""
        plan = self.plan
        if plan is None or plan.development is None:
            return None
        return plan.development.target_s * self.record.times_longer(self.record.next_step)

    @property
    def rate(self) -> Rate | None:
        """Get the rate of the development that goes on or comes next."""
        return development_rate(self.plan.development) if self.plan else None

    @property
    def is_developing(self) -> bool:
        """Get whether the plate lies in a developer now."""
        return self.away is None and self.here is not None and self.rate is not None

    def believed(self, now_s: float) -> Belief:
        """Return the temperature to reckon with, assuming the reference where nothing is known."""
        known = self.thermometer.believed(now_s)
        if known is not None:
            return known
        rate = self.rate
        reference_degC = rate.reference_degC if rate else 20.0
        return Belief(reference_degC, ASSUMED_TOLERANCE_K, "assumed", now_s)

    def started_s(self) -> float | None:
        """Return the moment [boot s] the step going on began."""
        return self.record.boot_s_at(self.here.started_s) if self.here else None

    # --- development ---

    def equivalent_s(self, now_s: float) -> float:
        """Return the equivalent time [s] of the development going on."""
        return self.record.equivalent_at(self.record.run_s_at(now_s), self.believed(now_s).bath_degC)

    def left_s(self, now_s: float) -> float:
        """Return the time left to the target [s] at the rate of this moment; negative once it is passed."""
        rate, target_s = self.rate, self.target_s
        if rate is None or target_s is None:
            raise AssertionError("nothing develops here")
        speed, _ = held_rate(rate, self.believed(now_s).bath_degC)
        return (target_s - self.equivalent_s(now_s)) / speed

    def due_s(self, now_s: float) -> float | None:
        """Return the moment [boot s] the step is due, as far as is known now; None when none goes on."""
        here, plan = self.here, self.plan
        if here is None or plan is None or self.away is not None:
            return None
        if self.is_developing:
            return now_s + self.left_s(now_s)
        return self.record.boot_s_at(here.started_s) + plan.time_s

    def forecast_due_s(self, now_s: float) -> float | None:
        """Return the moment [boot s] the step will be due if the bath goes on drifting as it does."""
        due_s = self.due_s(now_s)
        rate = self.rate
        if due_s is None or not self.is_developing or rate is None or self.thermometer.last is None:
            return due_s
        target_s = self.target_s
        if target_s is None:
            return due_s
        wanted_s = target_s - self.equivalent_s(now_s)
        if wanted_s <= 0:
            return due_s
        return now_s + time_left_along(rate, wanted_s, self.thermometer.drift(), now_s)

    def doubt_s(self, now_s: float) -> float | None:
        """Return how uncertain the whole development time is [s], for the doubt about the temperature."""
        due_s, started_s, rate = self.due_s(now_s), self.started_s(), self.rate
        if due_s is None or started_s is None or rate is None:
            return None
        belief = self.believed(now_s)
        return doubt(rate, belief.bath_degC, belief.tolerance_K) * (due_s - started_s) + self.record.doubt_s

    # --- cues ---

    def cues_until(self, now_s: float) -> list[Cue]:
        """Return the cues that have fallen due since last asked, each once."""
        given = [
            c for c in self._schedule(self.cued_s, now_s) if c.due_s <= now_s and c.key not in self._given
        ]
        self._given.update(c.key for c in given)
        self.cued_s = now_s
        return given

    def next_cue(self, now_s: float) -> Cue | None:
        """Return the next cue to come."""
        coming = [c for c in self._schedule(now_s, now_s) if c.key not in self._given]
        return min(coming, key=lambda c: c.due_s, default=None)

    def begin_step(self, now_s: float) -> None:
        """Forget the cues of the step before."""
        self._given.clear()
        self.cued_s = now_s

    def _schedule(self, after_s: float, now_s: float) -> list[Cue]:
        here, plan, started_s = self.here, self.plan, self.started_s()
        if here is None or plan is None or started_s is None or self.away is not None:
            return []
        if self.record.state == "due" and here.due_s is not None:
            return [overdue(plan, self.record.boot_s_at(here.due_s), after_s)]
        due_s = self.due_s(now_s)
        return [] if due_s is None else list(schedule(plan, started_s, due_s, after_s))

    # --- waiting ---

    def next_due_s(self, now_s: float) -> float | None:
        """Return the next moment [boot s] at which this lane has something to do."""
        if self.away is not None:
            return None
        moments = [self.due_s(now_s) if self.record.state == "running" else None]
        cue = self.next_cue(now_s)
        moments.append(cue.due_s if cue else None)
        moments.append(self._trend_due_s())
        return min((m for m in moments if m is not None), default=None)

    def wants_trend(self, now_s: float) -> bool:
        """Return whether the believed temperature must stand in for a silent probe at ``now_s``."""
        due_s = self._trend_due_s()
        return due_s is not None and now_s >= due_s

    def _trend_due_s(self) -> float | None:
        if not self.is_developing or self.thermometer.last is None or not self.record.samples:
            return None
        sampled_s = self.record.boot_s_at(self.record.samples[-1].run_s)
        return max(sampled_s + TREND_EVERY_S, self.thermometer.stale_at_s)


def next_mark(record: RunRecord) -> str:
    """Return the first of the routine's marks that is not made yet, or its last."""
    made = {mark.what for mark in record.marks}
    names = record.routine.marks
    return next((name for name in names if name not in made), names[-1])


def foot_words(lane: Lane) -> tuple[str, str]:
    """Return what a short and a long press of the foot do next in a lane, in words."""
    record, plan = lane.record, lane.plan
    if lane.away is not None or record.state == "ended" or plan is None:
        return "", ""
    if record.state == "ready":
        return f"plate into {plan.bath}: {plan.name} begins", ""
    if lane.is_developing:
        return f"mark: {next_mark(record)}", "pull the plate"
    steps = record.routine.steps
    after = steps[record.next_step + 1].name if record.next_step + 1 < len(steps) else "the run is over"
    if record.state == "due":
        return f"move on: {after}", ""
    return "", f"cut {plan.name} short"


def lane_free(lanes: dict[int, Lane], most: int) -> int | None:
    """Return the lowest lane number that no open run holds."""
    taken = {n for n, lane in lanes.items() if lane.record.state != "ended"}
    numbers = [0, *sorted(taken)]
    for before, after in pairwise(numbers):
        if after > before + 1:
            return before + 1
    return numbers[-1] + 1 if numbers[-1] < most else None
