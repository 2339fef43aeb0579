"""Draws the lamp and the print under it as views: plain facts for any screen."""

from __future__ import annotations

import math

import msgspec

from firmware_py.bench.interlocks.open_plate import OpenPlate, require_no_open_plate
from firmware_py.bench.lamp.lamp_foot import foot_words, situation
from firmware_py.bench.lamp.next_exposure import part_words
from firmware_py.bench.lamp.print_strip_words import strip_advice, strip_advice_after
from firmware_py.bench.lamp.printing import Printing
from firmware_py.bench.lamp.programs import base_now_s
from firmware_py.bench.lamp.shutter_cues import covering_due_s
from firmware_py.craft.lamp import effective_s
from firmware_py.craft.paper import burn_s
from firmware_py.craft.refusal import Refused
from firmware_py.craft.warming import WarmUp
from firmware_py.facts.views.print import (
    BurnView,
    FinishedView,
    LampView,
    PatchView,
    PrintView,
    ProgramView,
    SheetView,
    StripView,
)
from firmware_py.journal.print_outcome import PrintOutcome, print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_sheet import Exposure, Sheet


def show_lamp(desk: Printing, plates: list[OpenPlate], now_s: float) -> LampView:
    """Return the lamp as it is now."""
    rule, record = desk.rule, desk.record
    state = record.state if record is not None and record.state != "ended" else "dark"
    _, coming = situation(desk)
    press, long = foot_words(desk)
    blocked = _blocked(desk, plates)
    view = LampView(
        name=rule.name,
        on=state in {"lit", "warm", "uncovered"},
        mode=record.mode if record is not None else "timed",
        state=state,
        is_stopping=desk.is_stopping,
        next=coming.words if coming else "",
        next_s=coming.effective_s if coming else None,
        next_on_s=coming.on_time_s if coming else None,
        blocked=blocked,
        foot_press=press if not blocked or desk.is_exposing else "",
        foot_long=long,
        lag_s=rule.lag.lag_s,
        lag_doubt_s=rule.lag.uncertain_s,
        shortest_s=rule.lag.tried_from_s,
        mains_Hz=rule.mains_Hz,
        longest_on_s=rule.longest_on_s,
        safelight=rule.safelight,
    )
    if record is None or state == "dark":
        return view
    return _going_on(view, record, now_s)


def _blocked(desk: Printing, plates: list[OpenPlate]) -> str:
    """Return why nothing can be lit now, or nothing."""
    try:
        require_no_open_plate(plates)
    except Refused as refusal:
        return refusal.line
    if not desk.is_open:
        return "no print is open"
    return desk.missing() or _no_free_line(desk)


def _no_free_line(desk: Printing) -> str:
    """Return why no fresh sheet can be exposed now, for want of a run, or nothing."""
    record = desk.here()
    lights_only = record.mode == "kept lit" and record.state == "dark"
    if lights_only or record.state not in {"dark", "warm"}:
        return ""
    try:
        desk.require_free_line()
    except Refused as refusal:
        return refusal.line
    return ""


def _going_on(view: LampView, record: PrintRecord, now_s: float) -> LampView:
    lamp, exposure = record.lamp_lit, record.exposure
    here = exposure or lamp
    if here is None or lamp is None:
        return view
    is_lit = here.on_s is not None and record.state != "announced"
    part = here if here.part != "lamp" else None
    return msgspec.structs.replace(
        view,
        doing=part_words(record, here.part, here.number) if here.part != "lamp" else "lamp kept lit",
        since_s=here.on_s,
        ends_s=_ends_s(record, here),
        off_by_s=None if lamp.on_s is None else lamp.on_s + (lamp.ceiling_s or 0.0),
        lit_since_s=lamp.on_s,
        wanted_s=part.wanted_s if part else None,
        given_s=_given_s(record, part, now_s) if part and is_lit else 0.0,
        given_rate=_given_rate(record, part, now_s) if part and is_lit else 0.0,
    )


def _ends_s(record: PrintRecord, here: Exposure) -> float | None:
    if here.by_hand:
        return covering_due_s(record)
    if here.on_s is None or here.planned_s is None:
        return None
    return here.on_s + here.planned_s


def _given_s(record: PrintRecord, part: Exposure, now_s: float) -> float:
    if part.on_s is None:
        return 0.0
    lasted_s = max(0.0, now_s - part.on_s)
    if part.by_hand:
        return record.dose_s(part.on_s, part.on_s + lasted_s)
    return effective_s(lasted_s, record.opened.lag_s)


def _given_rate(record: PrintRecord, part: Exposure, now_s: float) -> float:
    lit = record.kept_lit[-1] if part.by_hand and record.kept_lit else None
    if lit is None or lit.on_s is None or not record.opened.warm_up:
        return 1.0
    return WarmUp(record.opened.warm_up).light(max(0.0, now_s - lit.on_s))


def show_print(desk: Printing) -> PrintView | None:
    """Return the print that is open, or the last one; None before the first."""
    record = desk.record
    if record is None:
        return None
    came = print_outcome(record)
    return PrintView(
        print_id=record.print_id,
        negative=record.opened.negative,
        run_id=record.opened.run_id,
        paper=record.paper,
        grade=record.grade,
        paper_log_range=record.paper_log_range,
        paper_speed=record.paper_speed,
        distance_mm=record.distance_mm,
        is_open=record.state != "ended",
        base_s=record.base_s,
        base_from=record.base_how,
        strip=_strip(record),
        chosen_patch=came.chosen_patch,
        burns=_burns(record, came),
        copies_left=record.copies_left,
        prints_finished=came.prints,
        sheet=_sheet(record),
        finished=_finished(record, came),
        program=_program(desk, record),
        interrupted=desk.interrupted,
        verdicts=came.verdicts,
        notes=came.notes,
    )


def _burns(record: PrintRecord, came: PrintOutcome) -> tuple[BurnView, ...]:
    return tuple(
        BurnView(
            burn=n,
            stops=burn.stops,
            place=burn.place,
            extra_s=burn.extra_s,
            given=record.sheet is not None and record.sheet.has("burn", n),
        )
        for n, burn in enumerate(came.burns, 1)
    )


def _finished(record: PrintRecord, came: PrintOutcome) -> tuple[FinishedView, ...]:
    return tuple(
        FinishedView(
            sheet=sheet.sheet,
            kind=record.sheets[sheet.sheet - 1].kind,
            measured_s=sheet.measured_s,
            effective_s=sheet.effective_s,
            run_id=sheet.run_id,
        )
        for sheet in came.sheets
        if sheet.ended == "finished"
    )


def _strip(record: PrintRecord) -> StripView | None:
    strip = next((s for s in reversed(record.sheets) if s.kind == "strip"), None)
    if strip is None:
        return None
    given = strip.patches_given_s() or (None,) * len(strip.patches_s)
    place = record.chosen.place if record.chosen and strip is record.strip() else None
    return StripView(
        method=strip.method,
        step_stops=strip.step_stops,
        patches=tuple(
            PatchView(patch=n, wanted_s=wanted, given_s=got, chosen=place == n)
            for n, (wanted, got) in enumerate(zip(strip.patches_s, given, strict=True), 1)
        ),
        exposed=sum(1 for slot in strip.slots() if slot.complete),
        finished=strip.ended == "finished",
        advice=strip_advice(strip) if strip.ended is None else "",
        advice_after=strip_advice_after(strip) if strip.ended is None else "",
    )


def _sheet(record: PrintRecord) -> SheetView | None:
    sheet = record.sheet
    if sheet is None:
        return None
    owed = sheet.owed()
    return SheetView(
        sheet=sheet.number,
        kind=sheet.kind,
        given_s=math.fsum(slot.given_s for slot in sheet.slots()),
        wanted_s=_wanted_s(record, sheet),
        half_exposed=sheet.is_touched,
        owed=part_words(record, owed.part, owed.number) if owed else "",
        owed_s=owed.missing_s if owed else None,
    )


def _wanted_s(record: PrintRecord, sheet: Sheet) -> float | None:
    """Return all the light that a sheet shall get, base and burns together."""
    if sheet.kind == "strip":
        return max(sheet.patches_s)
    if sheet.base_s is None:
        return None
    return sheet.base_s + math.fsum(burn_s(sheet.base_s, stops) for stops, _ in record.burns)


def _program(desk: Printing, record: PrintRecord) -> ProgramView | None:
    program = desk.programs.find(record.opened.negative, record.opened.run_id)
    if program is None:
        return None
    return ProgramView(
        base_s=program.base_s,
        base_now_s=base_now_s(program, record),
        burns=program.burns,
        paper=program.paper,
        distance_mm=program.distance_mm,
        kept_utc=program.kept_utc,
    )
