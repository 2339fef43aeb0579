"""What forbids an event of a print that its state alone would allow."""

from __future__ import annotations

from typing import TYPE_CHECKING

from firmware_py.facts.events import print as pe
from firmware_py.facts.events.event import Event
from firmware_py.journal.print_sheet import PARTS_OF, Exposure
from firmware_py.journal.print_states import BETWEEN_SHEETS, PARTS_IN, STATE_WORDS

if TYPE_CHECKING:
    from firmware_py.journal.print_record import PrintRecord


HALF_EXPOSED = "a sheet is half exposed"
# What a person can do about what stands in the way.
WAY_OUT = {
    HALF_EXPOSED: "give it the rest of its light, call it finished, or give it up",
    STATE_WORDS["lit"]: "once it is over, or stopped",
    STATE_WORDS["uncovered"]: "once it is covered",
    STATE_WORDS["warm"]: "put it out first",
}


def problem_of(record: PrintRecord, event: Event) -> str:
    """Return why an event can not happen now, to stand after "while"; nothing where it can."""
    if type(event) in BETWEEN_SHEETS and record.is_half_exposed:
        return HALF_EXPOSED
    match event:
        case pe.ExposureAnnounced() | pe.FrameUncovered():
            return _of_a_part(record, event)
        case pe.ExposureRefused() | pe.ExposureBegan() | pe.ExposureEnded():
            return _of_another(record.lamp_lit, event.exposure)
        case pe.FrameCovered():
            return _of_another(record.exposure, event.exposure)
        case _:
            return _of_a_sheet(record, event)


def _of_another(going_on: Exposure | None, exposure: str) -> str:
    return "" if going_on and going_on.exposure == exposure else "another exposure goes on"


def _of_a_part(record: PrintRecord, event: pe.ExposureAnnounced | pe.FrameUncovered) -> str:
    if isinstance(event, pe.ExposureAnnounced) and event.part not in PARTS_IN[record.mode]:
        return f"the lamp is {record.mode}"
    sheet = record.sheet
    if event.part == "lamp":
        return ""
    if sheet is None:
        return "no strip is planned" if event.part == "strip" else ""
    if event.part not in PARTS_OF[sheet.kind]:
        return f"a {sheet.kind} lies there"
    owed = sheet.owed()
    if owed is not None and (event.part, event.number) != (owed.part, owed.number):
        return "the rest of another exposure is wanting"
    return ""


def _of_a_sheet(record: PrintRecord, event: Event) -> str:
    sheet = record.sheet
    match event:
        case pe.SheetFinished() | pe.SheetGivenUp() if sheet is None or sheet.number != event.sheet:
            return "no such sheet lies there"
        case pe.SheetBathed() if not 1 <= event.sheet <= len(record.sheets):
            return "there is no such sheet"
        case pe.BurnRemoved() if not 1 <= event.burn <= len(record.burns):
            return "there is no such burn"
        case pe.RestForgone():
            owed = sheet.owed() if sheet else None
            is_owed = owed is not None and (owed.part, owed.number) == (event.part, event.number)
            return "" if is_owed else "nothing is wanting of it"
        case _:
            return ""
