"""The fold: what a run is, made from its events alone, the same for the live page and the logbook."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Development, Routine, Step
from firmware_py.craft.temperature import (
    EquivalentDoubt,
    Rate,
    equivalent_step,
    outside_K,
    rate_of,
)
from firmware_py.facts.about_run import about
from firmware_py.facts.events import plate as pe
from firmware_py.facts.events import run as ev
from firmware_py.facts.events import verdict as ve
from firmware_py.facts.events.event import Event
from firmware_py.journal.plate_correction import check_correction, follow_correction
from firmware_py.journal.plate_light import PlateLight
from firmware_py.journal.run_parts import MarkRecord, Sample, StepRecord
from firmware_py.journal.run_states import IN_STEP, KEEPS_STATE, TRANSITIONS, RunState
from firmware_py.journal.subject_fold import first_of, replayed, require_next
from firmware_py.journal.verdict_check import check_verdict

_OfPlate = ev.PlateCorrected | pe.AnyPlateEvent | ve.PlateJudged
# A remark or a verdict may come when the machine has long been started anew.
_ON_ANY_DAY = ev.RunResumed | ev.NoteWritten | ve.PlateJudged


@dataclass(slots=True)
class RunRecord:
    """One run, folded from its entries in order.

    Times inside are seconds since the run was opened (``run_s``), so they go on across a restart of the
    machine. Impossible entries raise `Refused` with "cannot … while …" and change nothing.
    """

    run_id: str
    opened: ev.RunOpened
    opened_utc: str
    boot_id: str
    number: int
    boot_s: float
    run_s: float = 0.0
    utc: str = ""
    state: RunState = "ready"
    ended: ev.RunEnd | None = None
    steps: list[StepRecord] = field(default_factory=list)
    marks: list[MarkRecord] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    samples: list[Sample] = field(default_factory=list)
    resumed: list[ev.RunResumed] = field(default_factory=list)
    doubt_s: float = 0.0
    plate_kind: pe.PlateDescribed | None = None
    baths: dict[int, pe.BathNamed] = field(default_factory=dict)
    light: PlateLight = field(default_factory=PlateLight)
    verdicts: dict[str, ve.PlateJudged] = field(default_factory=dict)
    corrected: ev.PlateCorrected | None = None

    @classmethod
    def begin(cls, entry: ev.Entry) -> RunRecord:
        """Return the run that its first entry opens."""
        opened = first_of(entry, ev.RunOpened, "run")
        return cls(
            run_id=entry.subject,
            opened=opened,
            opened_utc=entry.utc,
            boot_id=entry.boot_id,
            number=1,
            boot_s=entry.boot_s,
            utc=entry.utc,
        )

    @classmethod
    def replay(cls, entries: Iterable[ev.Entry]) -> RunRecord:
        """Return the run that these entries, in order, amount to."""
        return replayed(cls.begin, entries, "run")

    def apply(self, entry: ev.Entry) -> None:
        """Take in the run's next entry."""
        next_state = self._check(entry)
        seen_s = self.run_s
        self._move_to(entry)
        self._take(entry.event)
        if isinstance(entry.event, ev.RunResumed):
            self.light.interrupted(seen_s, self.run_s)
        self.state = next_state
        if isinstance(entry.event, ev.PullTakenBack) and self.steps[-1].due_s is not None:
            self.state = "due"

    # --- what is so now ---

    @property
    def plate(self) -> str:
        """Get the name of the first plate, as it was said last."""
        return self.named.plate

    @property
    def named(self) -> ev.RunOpened | ev.PlateCorrected:
        """Get the event that named the plates and their box last."""
        return self.corrected or self.opened

    @property
    def about(self) -> dict[str, Any]:
        """Get the fields of `AboutRun` by name, as they were said last."""
        return {**about(self.opened), "box": self.named.box}

    @property
    def routine(self) -> Routine:
        """Get the routine, as it was when the run was opened."""
        return self.opened.routine

    @property
    def rehearsal(self) -> bool:
        """Get whether it is on the simulated bench."""
        return self.opened.rehearsal

    @property
    def here(self) -> StepRecord | None:
        """Get the step that is going on, if one is."""
        return self.steps[-1] if self.steps and self.steps[-1].ended_s is None else None

    @property
    def plates(self) -> tuple[str, ...]:
        """Get every plate in the tray."""
        return (self.plate, *self.named.others)

    @property
    def next_step(self) -> int:
        """Get the number of the step that comes next (or is going on)."""
        here = self.here
        return here.step if here else (self.steps[-1].step + 1 if self.steps else 0)

    @property
    def development(self) -> StepRecord | None:
        """Get the last step in a developer, going on or done."""
        return next((s for s in reversed(self.steps) if self.plan(s).kind == "develop"), None)

    def plan(self, step: StepRecord) -> Step:
        """Return what the routine says of a step."""
        return self.routine.steps[step.step]

    def times_longer(self, step: int) -> float:
        """Return how many times its fresh time step number ``step`` takes in the bath named for it."""
        return self.baths[step].times_longer if step in self.baths else 1.0

    def run_s_at(self, boot_s: float) -> float:
        """Return the run's time [s] at a moment of the present machine start."""
        return self.run_s + (boot_s - self.boot_s)

    def boot_s_at(self, run_s: float) -> float:
        """Return the moment [boot s] of a time in the run."""
        return self.boot_s + (run_s - self.run_s)

    def rate(self, step: StepRecord) -> Rate | None:
        """Return the rate of development that holds in a step, or None where nothing develops."""
        return development_rate(self.plan(step).development)

    def equivalent_at(self, run_s: float, bath_degC: float) -> float:
        """Return the equivalent time [s] of the step going on, if the bath came to ``bath_degC`` now."""
        here = self.here
        rate = self.rate(here) if here else None
        if here is None or rate is None:
            return 0.0
        last = self.samples[-1]
        since_s = max(last.run_s, here.started_s)
        return here.equivalent_s + equivalent_step(rate, last.bath_degC, bath_degC, max(0.0, run_s - since_s))

    def equivalent_doubt_at(self, run_s: float, bath_degC: float, tolerance_K: float) -> EquivalentDoubt:
        """Return how far `equivalent_at` may be off, with the bath known to ``tolerance_K`` [K] now.

        Each stretch counts with what was known at its end: between readings that is the worse of the two.
        """
        here = self.here
        rate = self.rate(here) if here else None
        if here is None or rate is None:
            return EquivalentDoubt()
        grew_s = self.equivalent_at(run_s, bath_degC) - here.equivalent_s
        return here.equivalent_doubt.after(rate, bath_degC, tolerance_K, grew_s)

    # --- folding ---

    def _check(self, entry: ev.Entry) -> RunState:
        where = f"run {self.run_id}, entry {entry.number}"
        require_next(entry, self.run_id, self.number, where)
        event = entry.event
        if entry.boot_id != self.boot_id and not isinstance(event, _ON_ANY_DAY):
            raise Refused("the machine started anew, but the run was not resumed", where=where)
        next_state = self._next_state(event)
        if next_state is None:
            raise Refused(f"cannot take {type(event).__name__} while {self.state}", where=where)
        self._check_step(event, where)
        if isinstance(event, ev.MarkTakenBack) and all(m.what != event.what for m in self.marks):
            raise Refused(f"there is no mark {event.what!r} to take back", where=where)
        if isinstance(event, ev.PullTakenBack) and not self.can_go_back(event.step):
            raise Refused(f"no pull out of step {event.step} can be taken back", where=where)
        if isinstance(event, ev.PlateCorrected):
            check_correction(event, self.plates, where)
        if isinstance(event, pe.BathNamed):
            self._check_bath(event, where)
        if isinstance(event, ve.PlateJudged):
            check_verdict(event, self.plates, where)
        return next_state

    def _check_step(self, event: Event, where: str) -> None:
        """Refuse an event that names another step than it can be about."""
        if isinstance(event, ev.StepStarted) and event.step != self.next_step:
            raise Refused(f"cannot start step {event.step} while {self.next_step} comes next", where=where)
        if isinstance(event, IN_STEP) and event.step != self.steps[-1].step:
            words = f"cannot take {type(event).__name__} of step {event.step} while in step"
            raise Refused(f"{words} {self.steps[-1].step}", where=where)
        if isinstance(event, ev.StepStarted | pe.BathNamed) and event.step >= len(self.routine.steps):
            raise Refused(f"the routine has no step {event.step}", where=where)

    def _check_bath(self, event: pe.BathNamed, where: str) -> None:
        # A step that is over lasted as it did: its bath may be named once, afterwards, and lengthens nothing.
        is_late = event.step < self.next_step
        if is_late and (event.step < 0 or event.step in self.baths or event.times_longer != 1.0):
            raise Refused(f"cannot name the bath of step {event.step} while it is over", where=where)
        if not 1.0 <= event.times_longer <= 2.0:
            raise Refused(f"{event.times_longer:g} times longer", where=where, allowed="1 to 2")

    def _next_state(self, event: Event) -> RunState | None:
        if self.state in KEEPS_STATE.get(type(event), frozenset()):
            return self.state
        return TRANSITIONS.get((self.state, type(event)))

    def _move_to(self, entry: ev.Entry) -> None:
        resumed = entry.event if isinstance(entry.event, ev.RunResumed) else None
        if resumed is not None and (resumed.how != "boot clock" or entry.boot_id != self.boot_id):
            self.run_s += resumed.away_s
            self.boot_id = entry.boot_id
            self.boot_s = entry.boot_s
        elif entry.boot_id == self.boot_id:
            self.run_s += entry.boot_s - self.boot_s
            self.boot_s = entry.boot_s
        self.number = entry.number
        self.utc = entry.utc

    def _take(self, event: ev.AnyEvent) -> None:
        match event:
            case ev.StepStarted():
                self._start(event)
            case ev.TemperatureRead():
                self._sample(event.bath_degC, event.tolerance_K, event.source)
            case ev.MarkMade():
                self._mark(event)
            case ev.MarkTakenBack():
                self._take_back(event.what)
            case ev.NoteWritten():
                self.notes.append(event.text)
            case ev.StepEnded():
                self._end_step(event)
            case ev.RunEnded():
                self.ended = event.ended
                self.light.closes(self.run_s)
            case ev.RunResumed():
                self._resume(event)
            case (
                ev.PlateCorrected() | pe.PlateDescribed() | pe.BathNamed() | pe.LightFell() | ve.PlateJudged()
            ):
                self._learn_of_plate(event)
            case _:
                self._take_in_step(event, self.steps[-1])

    def _take_in_step(self, event: ev.AnyEvent, here: StepRecord) -> None:
        match event:
            case ev.PullTakenBack():
                self._go_back(event)
            case ev.WaterChanged():
                here.changed_s.append(self.run_s)
            case ev.BathLeftWindow():
                here.left_window = True
            case ev.StepFellDue():
                here.due_s = max(here.started_s, self.run_s - event.over_s)
            case ev.RunWentOn():
                return
            case _:  # pragma: no cover - _check has refused it
                raise AssertionError(event)

    def _resume(self, event: ev.RunResumed) -> None:
        self.resumed.append(event)
        self.doubt_s = max(self.doubt_s, event.doubt_s)
        if self.here is not None:
            self.here.doubt_s += event.doubt_s

    def _learn_of_plate(self, event: _OfPlate) -> None:
        match event:
            case ev.PlateCorrected():
                self.verdicts = follow_correction(self.verdicts, self.plates, event)
                self.corrected = event
            case ve.PlateJudged():
                self.verdicts[event.plate] = event
            case pe.PlateDescribed():
                self.plate_kind = event
            case pe.BathNamed():
                self.baths[event.step] = event
            case pe.LightFell():
                self.light.fell(event.light, event.on, self.run_s)

    def _start(self, event: ev.StepStarted) -> None:
        self.steps.append(StepRecord(step=event.step, started_s=self.run_s))
        if event.bath_degC is not None:
            self._sample(event.bath_degC, event.tolerance_K or 0.0, event.source or "assumed")

    def _sample(self, bath_degC: float, tolerance_K: float, source: ev.TemperatureSource) -> None:
        here = self.here
        if here is not None and self.samples:
            here.equivalent_doubt = self.equivalent_doubt_at(self.run_s, bath_degC, tolerance_K)
            here.equivalent_s = self.equivalent_at(self.run_s, bath_degC)
        self._mind_range(here, bath_degC)
        step = here.step if here is not None else -1
        self.samples.append(Sample(self.run_s, bath_degC, tolerance_K, source, step))

    def _mind_range(self, here: StepRecord | None, bath_degC: float) -> None:
        """Keep how far and how long the developer was outside the range in which its rate was tested."""
        rate = self.rate(here) if here else None
        if here is None or rate is None:
            return
        far_K = outside_K(rate, bath_degC)
        if far_K and self.samples:
            here.outside_s += self.run_s - max(self.samples[-1].run_s, here.started_s)
        if abs(far_K) > abs(here.outside_K):
            here.outside_K = far_K

    def _mark(self, event: ev.MarkMade) -> None:
        here = self.steps[-1]
        developing = self.plan(here).development is not None and bool(self.samples)
        bath_degC = (
            event.bath_degC
            if event.bath_degC is not None
            else (self.samples[-1].bath_degC if self.samples else 0.0)
        )
        self.marks.append(
            MarkRecord(
                what=event.what,
                step=here.step,
                elapsed_s=self.run_s - here.started_s,
                equivalent_s=self.equivalent_at(self.run_s, bath_degC) if developing else None,
            )
        )

    def _take_back(self, what: str) -> None:
        last = max(n for n, mark in enumerate(self.marks) if mark.what == what)
        del self.marks[last]

    def _end_step(self, event: ev.StepEnded) -> None:
        here = self.steps[-1]
        if event.bath_degC is not None and self.samples:
            last = self.samples[-1]
            self._sample(event.bath_degC, last.tolerance_K, last.source)
        here.ended_s = self.run_s
        here.why = event.why

    def can_go_back(self, step: int) -> bool:
        """Return whether the plate was pulled out of developer ``step``, and nothing done with it since."""
        if len(self.steps) < 2:
            return False
        pulled, here = self.steps[-2:]
        is_pulled = pulled.step == step and pulled.why == "pulled"
        is_touched = bool(here.changed_s) or any(mark.step == here.step for mark in self.marks)
        return is_pulled and not is_touched and self.here is here and self.rate(pulled) is not None

    def _go_back(self, event: ev.PullTakenBack) -> None:
        """Let the development that was ended go on: what was carried in the gelatine went on working."""
        left = self.steps.pop()
        here = self.steps[-1]
        out_s = self.run_s - (here.ended_s or self.run_s)
        here.ended_s = here.why = None
        here.out_s += out_s
        here.doubt_s += out_s
        # What was read in the next bath since is of a bath that the plate does not lie in.
        while self.samples and self.samples[-1].step == left.step:
            self.samples.pop()
        if self.samples:
            bath_degC = self.samples[-1].bath_degC if event.bath_degC is None else event.bath_degC
            self._sample(bath_degC, event.tolerance_K, event.source)


_RATES: dict[Development, Rate] = {}


def development_rate(development: Development | None) -> Rate | None:
    """Return the rate for a development, made once for each; None for none."""
    if development is None:
        return None
    if development not in _RATES:
        _RATES[development] = rate_of(development)
    return _RATES[development]
