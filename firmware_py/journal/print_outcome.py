"""What came of a print, as plain numbers with their units in their names: for JSON, lists and sheets.

Everywhere ``wanted_s`` and ``effective_s`` are seconds of full light, ``planned_s`` and ``measured_s`` are
seconds for which the lamp was on: the two differ by the lamp's lag, once for each start.
"""

from __future__ import annotations

import math

import msgspec

from firmware_py.craft.paper import burn_s
from firmware_py.craft.strips import given_s
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_sheet import Exposure, Sheet


class ExposureOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """One start of the lamp, or one uncovering by hand (then ``measured_s`` is by the foot).

    ``estimated`` marks an end that nobody measured, good to ± ``doubt_s``.
    """

    exposure: str
    part: str
    number: int
    rest: bool
    by_hand: bool
    wanted_s: float | None
    planned_s: float | None
    measured_s: float
    effective_s: float
    ended: str | None
    stopped_by: str
    estimated: bool
    doubt_s: float


class PatchOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """A patch of the strip: what all the starts that reached it amount to."""

    patch: int
    wanted_s: float
    planned_s: float | None
    measured_s: float | None
    effective_s: float | None


class BurnOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """A burn: how many stops darker, where, and the extra light that takes with the present base."""

    stops: float
    place: str
    extra_s: float | None


class SheetOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """A sheet: strip, print or bulb print, with its sums; ``run_id`` is its way through the baths."""

    sheet: int
    kind: str
    ended: str | None
    base_s: float | None
    wanted_s: float | None
    planned_s: float | None
    measured_s: float
    effective_s: float
    doubt_s: float
    run_id: str | None
    exposures: tuple[ExposureOutcome, ...]


class PrintOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """A print in numbers: its sums are those of the last print sheet, its patches those of the last strip."""

    print_id: str
    negative: str
    run_id: str | None
    paper: str
    grade: str
    paper_log_range: float | None
    paper_speed: float | None
    lamp: str
    distance_mm: float | None
    mode: str
    lag_s: float
    lag_doubt_s: float
    mains_Hz: float | None
    rehearsal: bool
    opened_utc: str
    state: str
    base_s: float | None
    base_from: str | None
    burns: tuple[BurnOutcome, ...]
    method: str | None
    step_stops: float | None
    patches: tuple[PatchOutcome, ...]
    chosen_patch: float | None
    wanted_s: float | None
    planned_s: float | None
    measured_s: float | None
    effective_s: float | None
    doubt_s: float
    prints: int
    sheets: tuple[SheetOutcome, ...]
    verdicts: tuple[str, ...]
    notes: tuple[str, ...]


def print_outcome(record: PrintRecord) -> PrintOutcome:
    """Return what came of a print so far."""
    opened = record.opened
    sheets = tuple(_sheet(sheet) for sheet in record.sheets)
    last = next((s for s in reversed(sheets) if s.kind != "strip"), None)
    strip = next((s for s in reversed(record.sheets) if s.kind == "strip"), None)
    return PrintOutcome(
        print_id=record.print_id,
        negative=opened.negative,
        run_id=opened.run_id,
        paper=record.paper,
        grade=record.grade,
        paper_log_range=record.paper_log_range,
        paper_speed=record.paper_speed,
        lamp=opened.lamp,
        distance_mm=record.distance_mm,
        mode=record.mode,
        lag_s=opened.lag_s,
        lag_doubt_s=opened.lag_doubt_s,
        mains_Hz=opened.mains_Hz,
        rehearsal=opened.rehearsal,
        opened_utc=record.opened_utc,
        state=record.state,
        base_s=record.base_s,
        base_from=record.base_how,
        burns=tuple(_burn(record, *burn) for burn in record.burns),
        method=strip.method if strip else None,
        step_stops=strip.step_stops if strip else None,
        patches=patches(strip) if strip else (),
        chosen_patch=record.chosen.place if record.chosen else None,
        wanted_s=last.wanted_s if last else None,
        planned_s=last.planned_s if last else None,
        measured_s=last.measured_s if last else None,
        effective_s=last.effective_s if last else None,
        doubt_s=last.doubt_s if last else 0.0,
        prints=record.prints_finished(),
        sheets=sheets,
        verdicts=tuple(record.verdicts),
        notes=tuple(record.notes),
    )


def patches(strip: Sheet) -> tuple[PatchOutcome, ...]:
    """Return the patches of a strip; what is not exposed yet has only what is wanted of it."""
    numbers = range(1, len(strip.patches_s) + 1)
    planned = _by_patch(strip, [_planned_s(strip, n) for n in numbers])
    measured = _by_patch(strip, [_lasted_s(strip, n) for n in numbers])
    effective = strip.patches_given_s() or (None,) * len(strip.patches_s)
    return tuple(
        PatchOutcome(patch=n, wanted_s=wanted, planned_s=plan, measured_s=lit, effective_s=given)
        for n, (wanted, plan, lit, given) in enumerate(
            zip(strip.patches_s, planned, measured, effective, strict=True), 1
        )
    )


def _by_patch(strip: Sheet, by_exposure: list[float | None]) -> tuple[float | None, ...]:
    """Return sums by patch from sums by exposure; nothing as long as one exposure is wanting."""
    known = [time_s for time_s in by_exposure if time_s]
    if len(known) != len(by_exposure):
        return (None,) * len(by_exposure)
    return given_s(known, strip.method)


def _starts(strip: Sheet, number: int) -> list[Exposure]:
    return [e for e in strip.exposures if e.number == number and e.off_s is not None]


def _planned_s(strip: Sheet, number: int) -> float | None:
    """Return the on-time planned for an exposure of the strip: that of its first start."""
    starts = _starts(strip, number)
    return starts[0].planned_s if starts else None


def _lasted_s(strip: Sheet, number: int) -> float | None:
    starts = _starts(strip, number)
    return math.fsum(start.lasted_s for start in starts) if starts else None


def _burn(record: PrintRecord, stops: float, place: str) -> BurnOutcome:
    extra_s = burn_s(record.base_s, stops) if record.base_s else None
    return BurnOutcome(stops=stops, place=place, extra_s=extra_s)


def _sheet(sheet: Sheet) -> SheetOutcome:
    exposures = tuple(_exposure(e) for e in sheet.exposures if e.off_s is not None)
    wanted = [slot.wanted_s for slot in sheet.slots()]
    planned = [e.planned_s for e in exposures if not e.rest]
    return SheetOutcome(
        sheet=sheet.number,
        kind=sheet.kind,
        ended=sheet.ended,
        base_s=sheet.base_s,
        wanted_s=_sum_of(wanted),
        planned_s=_sum_of(planned),
        measured_s=math.fsum(e.measured_s for e in exposures),
        effective_s=math.fsum(e.effective_s for e in exposures),
        doubt_s=math.fsum(e.doubt_s for e in exposures),
        run_id=sheet.run_id,
        exposures=exposures,
    )


def _sum_of(times_s: list[float | None]) -> float | None:
    known = [time_s for time_s in times_s if time_s is not None]
    return math.fsum(known) if known and len(known) == len(times_s) else None


def _exposure(exposure: Exposure) -> ExposureOutcome:
    return ExposureOutcome(
        exposure=exposure.exposure,
        part=exposure.part,
        number=exposure.number,
        rest=exposure.rest,
        by_hand=exposure.by_hand,
        wanted_s=exposure.wanted_s,
        planned_s=exposure.planned_s,
        measured_s=exposure.lasted_s,
        effective_s=exposure.effective_s,
        ended=exposure.why,
        stopped_by=exposure.stopped_by,
        estimated=exposure.doubt_s > 0.0,
        doubt_s=exposure.doubt_s,
    )
