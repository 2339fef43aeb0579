"""One tray with its run: where the plate lies, what temperature to believe, how far its development is."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

from firmware_py.bench.trays.cue_state import CueState
from firmware_py.bench.trays.precedents import Precedent
from firmware_py.bench.trays.resume import Away
from firmware_py.bench.warmth.thermometers import Thermometers
from firmware_py.bench.warmth.thermometry import ASSUMED_TOLERANCE_K, Belief, Thermometer
from firmware_py.craft.light_allowed import is_fixed, light_allowed
from firmware_py.craft.routine import Light, Step
from firmware_py.craft.temperature import Rate, running_rate
from firmware_py.journal.run_parts import StepRecord
from firmware_py.journal.run_record import RunRecord, development_rate
from firmware_py.journal.seen import appeared_s

# Where a plate is, as far as it matters for what can be done about the light: still dry, in a bath before its
# last fixer, in its last fixer, or where nobody can tell after a stop.
Whereabouts = Literal["dry", "wet", "fixing", "interrupted"]


@dataclass(slots=True)
class Lane:
    """A run in tray ``number``, and the thermometers that serve it.

    ``away`` is set while a run waits to be taken up again after the machine had stopped; ``precedent`` is
    where earlier plates of its box were pulled out of its developer; ``is_outside`` while its bath is
    outside the window that the step wants; ``stalled_until_s`` [boot s] gives a lane that can not go on a
    pause, so that it takes no time from the others. ``back_until_s`` [boot s] is until when a pull can be
    taken back.
    """

    number: int
    record: RunRecord
    thermometers: Thermometers
    away: Away | None = None
    cues: CueState = field(default_factory=CueState)
    precedent: Precedent | None = None
    is_outside: bool = False
    stalled_until_s: float = 0.0
    back_until_s: float | None = None

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
    def after(self) -> Step | None:
        """Get the plan of the step after that; None after the last."""
        steps = self.record.routine.steps
        number = self.record.next_step + 1
        return steps[number] if number < len(steps) else None

    @property
    def before(self) -> Step | None:
        """Get the plan of the step that was over before the one going on; None at the first."""
        steps = self.record.steps
        return self.record.plan(steps[-2]) if len(steps) > 1 else None

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

    @property
    def light(self) -> Light:
        """Get the most light that may fall on it now; laid ready, that of its first bath."""
        return "white" if self.record.state == "ended" else self.light_at(self.record.next_step)

    def light_at(self, step: int) -> Light:
        """Return the most light that may fall on it in step number ``step`` of its routine."""
        kind = self.record.plate_kind
        sensitivity = kind.sensitivity if kind is not None else None
        return light_allowed(self.record.routine, step, sensitivity, dark=self.record.opened.dark)

    @property
    def is_open(self) -> bool:
        """Get whether white light would spoil what goes through this run now."""
        return self.light != "white"

    @property
    def is_open_plate(self) -> bool:
        """Get whether it is a plate, not paper, that white light would spoil now."""
        return self.is_open and self.record.routine.sheet == "plate"

    @property
    def whereabouts(self) -> Whereabouts:
        """Get where the plate is, as far as it matters for what can be done about the light."""
        record = self.record
        if self.away is not None:
            return "interrupted"
        if not record.steps:
            return "dry"
        is_last = is_fixed(record.routine, record.next_step + 1)
        return "fixing" if record.here is not None and is_last else "wet"

    @property
    def words(self) -> str:
        """Get what lies in the tray, in words."""
        others = len(self.record.named.others)
        return f"{self.record.plate} and {others} more" if others else self.record.plate

    # --- temperature ---

    @property
    def thermometer(self) -> Thermometer:
        """Get the thermometer of the bath that the plate lies in, or goes into next."""
        step = self.plan or self.record.routine.steps[-1]
        return self.thermometers.of_step(self.number, step)

    def believed(self, now_s: float) -> Belief:
        """Return the temperature to reckon with, assuming the reference where nothing is known."""
        known = self.thermometer.believed(now_s)
        if known is not None:
            return known
        rate = self.rate
        reference_degC = rate.reference_degC if rate else 20.0
        return Belief(reference_degC, ASSUMED_TOLERANCE_K, "assumed", now_s)

    # --- development ---

    def started_s(self) -> float | None:
        """Return the moment [boot s] the step going on began."""
        return self.record.boot_s_at(self.here.started_s) if self.here else None

    def equivalent_s(self, now_s: float) -> float:
        """Return the equivalent time [s] of the development going on."""
        return self.record.equivalent_at(self.record.run_s_at(now_s), self.believed(now_s).bath_degC)

    def speed(self, now_s: float) -> float:
        """Return how many equivalent seconds go by in a second now."""
        rate = self.rate
        return running_rate(rate, self.believed(now_s).bath_degC) if rate is not None else 1.0

    def appeared_s(self) -> float | None:
        """Return the equivalent time [s] of the first appearance in the development going on."""
        return appeared_s(self.record, self.here) if self.here is not None else None


def next_mark(record: RunRecord) -> str | None:
    """Return the first of the foot's marks that a developing plate has not got yet, None once it has all."""
    made = {mark.what for mark in record.marks}
    routine = record.routine
    names = (name for name in routine.foot_marks or routine.marks if name != routine.clearing_mark)
    return next((name for name in names if name not in made), None)


def lane_free(lanes: dict[int, Lane], most: int) -> int | None:
    """Return the lowest lane number that no open run holds."""
    taken = {n for n, lane in lanes.items() if lane.record.state != "ended"}
    numbers = [0, *sorted(taken)]
    for before, after in pairwise(numbers):
        if after > before + 1:
            return before + 1
    return numbers[-1] + 1 if numbers[-1] < most else None
