"""The sheets of a print: broken off and made good, finished with their program kept, or given up."""

from __future__ import annotations

from typing import Protocol

from firmware_py.bench.lamp.next_exposure import burns_left, next_exposure
from firmware_py.bench.lamp.print_strip_words import strip_advice
from firmware_py.bench.lamp.programs import Programs, program_of_record
from firmware_py.bench.matters import Kind
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import print as pe
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_sheet import Sheet


class Desk(Protocol):
    """The open print, and the pen for it."""

    programs: Programs
    interrupted: str

    def here(self) -> PrintRecord:
        """Return the print that is open. Raises Refused where none is."""
        ...

    def write(self, event: pe.AnyPrintEvent) -> None:
        """Write the open print's next event. Raises Refused where it can not happen now."""
        ...

    def say(self, words: str, kind: Kind = "lamp") -> None:
        """Let the words about the lamp be these."""
        ...

    def unsay(self, words: str) -> None:
        """Let these very words rest, if they still stand."""
        ...


def forgo_rest(desk: Desk) -> None:
    """Let the part that was broken off be good as it is."""
    sheet = desk.here().sheet
    owed = sheet.owed() if sheet else None
    if owed is None:
        raise Refused("nothing is wanting of this sheet", where="lamp")
    desk.write(pe.RestForgone(part=owed.part, number=owed.number))
    after_exposure(desk)


def finish_sheet(desk: Desk) -> None:
    """Call the sheet finished, whatever burns it has not got."""
    sheet = desk.here().sheet
    if sheet is None or not sheet.is_touched:
        raise Refused("no exposed sheet lies there", where="lamp", allowed="expose one first")
    if sheet.kind == "strip" and not sheet.patches_given_s():
        raise Refused("the strip is not whole", where="lamp", allowed="expose the rest, or give it up")
    _finish(desk)


def give_up_sheet(desk: Desk) -> None:
    """Give up the sheet under the lamp; a strip that is only planned is dropped."""
    sheet = desk.here().sheet
    if sheet is None:
        raise Refused("no sheet lies there", where="lamp")
    desk.write(pe.SheetGivenUp(sheet=sheet.number))
    desk.interrupted = ""
    desk.say(f"Sheet {sheet.number} is given up")


def after_exposure(desk: Desk) -> None:
    """Finish the sheet if it has got all its light; say what comes next."""
    record = desk.here()
    sheet = record.sheet
    if sheet is None:
        return
    is_whole = sheet.owed() is None
    if is_whole and sheet.kind == "strip":
        is_whole = len(sheet.slots()) == len(sheet.patches_s)
    elif is_whole:
        is_whole = sheet.kind == "print" and sheet.has("base", 1) and not burns_left(record, sheet)
    if is_whole:
        _finish(desk)
    else:
        desk.say(what_is_next(record))


def what_is_next(record: PrintRecord) -> str:
    """Return in words what the sheet gets next, or why it gets nothing."""
    try:
        coming = next_exposure(record)
    except Refused as refusal:
        return refusal.line
    advice = strip_advice(record.sheet) if record.sheet is not None else ""
    return f"Next: {coming.words}" + (f"; {advice}" if advice else "")


def _finish(desk: Desk) -> None:
    record = desk.here()
    sheet = record.sheets[-1]
    desk.write(pe.SheetFinished(sheet=sheet.number))
    if sheet.kind == "print" and sheet.base_s is not None:
        _keep_program(desk, pe.ProgramKept(base_s=sheet.base_s, burns=tuple(record.burns)))
    desk.say(_has_its_light(record, sheet))


def bathe(desk: Desk, sheet: Sheet, run_id: str) -> None:
    """Link a finished sheet to the run of its baths; that it waits for them is said no longer."""
    desk.unsay(_has_its_light(desk.here(), sheet))
    desk.write(pe.SheetBathed(sheet=sheet.number, run_id=run_id))


def _has_its_light(record: PrintRecord, sheet: Sheet) -> str:
    if sheet.kind == "strip":
        return "The strip has got all its light: develop it and choose a patch"
    return f"Print {record.prints_finished()} has got all its light: into the baths"


def _keep_program(desk: Desk, program: pe.ProgramKept) -> None:
    record = desk.here()
    if record.program != program:
        desk.write(program)
    kept = program_of_record(record)
    if kept is not None:
        desk.programs.remember(kept)
