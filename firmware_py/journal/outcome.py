"""What came of a run, as plain numbers with their units in their names: for JSON, lists and sheets."""

from __future__ import annotations

from itertools import pairwise

import msgspec

from firmware_py.craft.routine import Development, SheetName, Step
from firmware_py.facts.about_run import AboutRun
from firmware_py.facts.events.verdict import PlateJudged
from firmware_py.journal.run_parts import MarkRecord, Sample, StepRecord
from firmware_py.journal.run_record import RunRecord, development_rate
from firmware_py.journal.seen import appeared_s, cleared_s


class BathOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """The developer's temperature over the development; the mean is over time."""

    min: float
    mean: float
    max: float


class OutsideOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """That a developer left the range in which its rate was tested, and by how much.

    ``furthest_K`` [K] is below 0 in the cold; ``lasted_s`` [s] is how long; the range in [degC]. ``held``
    says that the edge's rate was counted there (plans from before the law went on).
    """

    furthest_K: float
    lasted_s: float
    low_degC: float
    high_degC: float
    held: bool = False


class MarkOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """A mark: what was seen, in which step, when in it, and the equivalent time then."""

    what: str
    step: str
    elapsed_s: float
    equivalent_s: float | None


class StepOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """A step: how long it was meant to last, and how long it did.

    ``cleared_s`` is when in it the plate was seen clear, ``waters`` how many waters it had, ``doubt_s`` what
    a resumption in it left uncertain, ``left_window`` whether its bath was too cold or too warm.
    """

    name: str
    kind: str
    bath: str
    planned_s: float
    elapsed_s: float | None
    ended: str | None
    cleared_s: float | None = None
    waters: int = 1
    doubt_s: float = 0.0
    left_window: bool = False


class VerdictOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """How a plate was judged, dry or by its print; densities as read, fog and base included."""

    plate: str
    after: str
    density: str
    contrast: str
    fog: str
    faults: tuple[str, ...]
    shadow_density: float | None
    highlight_density: float | None
    fog_density: float | None
    gamma: float | None
    remark: str
    shadow_detail: bool | None = None
    highlights_blocked: bool | None = None


class RunOutcome(AboutRun, frozen=True, kw_only=True):
    """A run in numbers; ``elapsed_s`` and ``equivalent_s`` are the time in the developer.

    ``ends`` is what could end the development, ``factor`` that of its first appearance, ``appeared_s`` [s]
    the equivalent time of it, ``ceiling_s`` [s] the equivalent time it was not to exceed; ``verdicts`` are
    the last ones on each of its plates; ``sheet`` is what went through it. ``equivalent_doubt_s`` [s] is how
    far ``equivalent_s`` may be off by the bath and by the law (about 19 times in 20 within it); ``outside``
    is there where the developer left its tested range.
    """

    run_id: str
    plate: str
    routine: str
    tray: str
    rehearsal: bool
    opened_utc: str
    state: str
    ended: str | None
    elapsed_s: float | None
    equivalent_s: float | None
    target_s: float | None
    reference_degC: float | None
    rate_per_K: float | None
    bath_degC: BathOutcome | None
    marks: tuple[MarkOutcome, ...]
    steps: tuple[StepOutcome, ...]
    notes: tuple[str, ...]
    doubt_s: float
    plates: tuple[str, ...] = ()
    ends: tuple[str, ...] = ()
    factor: float | None = None
    appeared_s: float | None = None
    ceiling_s: float | None = None
    developer: str = ""
    verdicts: tuple[VerdictOutcome, ...] = ()
    sheet: SheetName = "plate"
    equivalent_doubt_s: float | None = None
    outside: OutsideOutcome | None = None


def outcome(record: RunRecord) -> RunOutcome:
    """Return what came of a run so far."""
    developed = record.development
    plan = record.plan(developed).development if developed else _first_development(record)
    rate = development_rate(plan)
    return RunOutcome(
        **record.about,
        run_id=record.run_id,
        plate=record.plate,
        routine=record.routine.name,
        tray=record.opened.tray,
        rehearsal=record.rehearsal,
        opened_utc=record.opened_utc,
        state=record.state,
        ended=record.ended,
        elapsed_s=lasted_s(record, developed) if developed else None,
        equivalent_s=developed.equivalent_s if developed else None,
        target_s=plan.target_s * record.times_longer(developed.step if developed else 0) if plan else None,
        reference_degC=plan.reference_degC if plan else None,
        rate_per_K=rate.ln_per_K(plan.reference_degC) if rate and plan else None,
        bath_degC=_bath(record, developed) if developed else None,
        marks=tuple(_mark(record, mark) for mark in record.marks),
        steps=tuple(_step(record, step) for step in record.steps),
        notes=tuple(record.notes),
        doubt_s=record.doubt_s,
        plates=record.plates,
        ends=plan.ends if plan else (),
        factor=plan.factor if plan else None,
        appeared_s=appeared_s(record, developed) if developed else None,
        ceiling_s=plan.ceiling_s if plan else None,
        developer=developer_of(record),
        verdicts=tuple(map(_verdict, record.verdicts.values())),
        sheet=record.routine.sheet,
        equivalent_doubt_s=developed.equivalent_doubt.total_s if developed else None,
        outside=_outside(record, developed) if developed else None,
    )


def developer_of(record: RunRecord) -> str:
    """Return the bath of the run's development: the last one gone through, else the first one planned."""
    developed = record.development
    if developed is not None:
        return record.plan(developed).bath
    return next((step.bath for step in record.routine.steps if step.development), "")


def planned_s(step: Step) -> float:
    """Return the time a step is meant to last [s]: in a developer, at its reference temperature."""
    return step.development.target_s if step.development else step.time_s * step.changes


def lasted_s(record: RunRecord, step: StepRecord) -> float:
    """Return how long a step lasted [s], or has lasted by the run's last entry."""
    return (step.ended_s if step.ended_s is not None else record.run_s) - step.started_s


def trace(record: RunRecord, step: StepRecord) -> list[Sample]:
    """Return the temperatures that count in a step, from its start to its end."""
    end_s = step.ended_s if step.ended_s is not None else record.run_s
    return [s for s in record.samples if s.step == step.step and step.started_s <= s.run_s <= end_s]


def _first_development(record: RunRecord) -> Development | None:
    return next((s.development for s in record.routine.steps if s.development), None)


def _bath(record: RunRecord, step: StepRecord) -> BathOutcome | None:
    samples = trace(record, step)
    if not samples:
        return None
    degrees = [s.bath_degC for s in samples]
    area = sum((a.bath_degC + b.bath_degC) / 2 * (b.run_s - a.run_s) for a, b in pairwise(samples))
    lasted = samples[-1].run_s - samples[0].run_s
    return BathOutcome(min=min(degrees), mean=area / lasted if lasted > 0 else degrees[0], max=max(degrees))


def _outside(record: RunRecord, step: StepRecord) -> OutsideOutcome | None:
    rate = record.rate(step)
    if rate is None or not step.outside_K:
        return None
    return OutsideOutcome(
        furthest_K=step.outside_K,
        lasted_s=step.outside_s,
        low_degC=rate.low_degC,
        high_degC=rate.high_degC,
        held=rate.beyond == "held",
    )


def _mark(record: RunRecord, mark: MarkRecord) -> MarkOutcome:
    step = record.routine.steps[mark.step].name
    return MarkOutcome(what=mark.what, step=step, elapsed_s=mark.elapsed_s, equivalent_s=mark.equivalent_s)


def _verdict(verdict: PlateJudged) -> VerdictOutcome:
    return VerdictOutcome(**msgspec.structs.asdict(verdict))


def _step(record: RunRecord, step: StepRecord) -> StepOutcome:
    plan = record.plan(step)
    return StepOutcome(
        name=plan.name,
        kind=plan.kind,
        bath=plan.bath,
        planned_s=planned_s(plan),
        elapsed_s=None if step.ended_s is None else step.ended_s - step.started_s,
        ended=step.why,
        cleared_s=cleared_s(record, step),
        waters=len(step.changed_s) + 1,
        doubt_s=step.doubt_s,
        left_window=step.left_window,
    )
