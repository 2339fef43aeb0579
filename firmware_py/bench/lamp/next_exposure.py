"""What the sheet under the lamp gets next, and how long the lamp must be on for it: read off the record."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.craft.lamp import on_s, strip_on_s, to_half_cycles
from firmware_py.craft.paper import burn_s
from firmware_py.craft.refusal import Refused
from firmware_py.craft.strips import Strip, say_stops
from firmware_py.facts.events.print import Part
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_sheet import Sheet, Slot


@dataclass(frozen=True, slots=True)
class NextExposure:
    """A part of the sheet, by its words, and the seconds of full light [s] it wants.

    ``effective_s`` is None where only a foot ends it. ``on_time_s`` [s] is how long the lamp is to be on;
    None where a foot or a hand ends it, or where ``too_short`` says that the lamp can not give so little.
    """

    part: Part
    number: int
    words: str
    effective_s: float | None = None
    on_time_s: float | None = None
    rest: bool = False
    too_short: bool = False


def next_exposure(record: PrintRecord) -> NextExposure:
    """Return what comes next. Raises Refused, with what is to be done, where nothing can be exposed."""
    sheet = record.sheet
    owed = sheet.owed() if sheet else None
    if record.mode == "bulb":
        return _bulb(record)
    if owed is not None:
        return _rest(record, owed)
    if sheet is not None and sheet.kind == "strip":
        return _patch(record, sheet)
    if sheet is not None and sheet.has("base", 1):
        return _burn(record, sheet)
    return _base(record)


def strip_on_times_s(record: PrintRecord, strip: Sheet) -> tuple[float, ...]:
    """Return the on-times [s] of a strip's exposures, each with the lamp's lag.

    Raises Refused where one of them is shorter than this lamp is known to give.
    """
    opened = record.opened
    plan = Strip(strip.method, strip.patches_s, strip.increments_s)
    times_s = strip_on_s(plan, opened.lag_s, opened.mains_Hz)
    if min(times_s) < opened.shortest_s:
        raise Refused(
            f"the strip needs the lamp for {min(times_s):.2f} s at a time",
            where="strip",
            allowed=f"{opened.shortest_s:g} s or more: wider steps, a longer middle, or a weaker light",
        )
    return times_s


def burns_left(record: PrintRecord, sheet: Sheet) -> list[int]:
    """Return the numbers of the burns that a sheet has not got."""
    return [n for n in range(1, len(record.burns) + 1) if not sheet.has("burn", n)]


def part_words(record: PrintRecord, part: Part, number: int) -> str:
    """Return what a part is called: "patch 3 of 7", "base", "burn 1 (sky, 1/2 stop)"."""
    sheet = record.sheet
    match part:
        case "strip":
            total = len(sheet.patches_s) if sheet else 0
            return f"strip, exposure {number} of {total}"
        case "burn" if number <= len(record.burns):
            stops, place = record.burns[number - 1]
            return f"burn {number} ({place + ', ' if place else ''}{say_stops(stops)})"
        case "lamp":
            return "lamp kept lit"
        case _:
            return part if part != "bulb" else "by foot alone"


def _timed(record: PrintRecord, part: Part, number: int, wanted_s: float) -> NextExposure:
    on_time_s = None if record.mode == "kept lit" else _on_time_s(record, wanted_s)
    return NextExposure(part, number, part_words(record, part, number), wanted_s, on_time_s)


def _on_time_s(record: PrintRecord, wanted_s: float) -> float:
    opened = record.opened
    time_s = on_s(wanted_s, opened.lag_s, opened.shortest_s)
    return time_s if opened.mains_Hz is None else to_half_cycles(time_s, opened.mains_Hz).on_s


def _rest(record: PrintRecord, owed: Slot) -> NextExposure:
    words = f"rest of {part_words(record, owed.part, owed.number)}"
    missing_s = owed.missing_s
    on_time_s, too_short = None, False
    if record.mode != "kept lit":
        try:
            on_time_s = _on_time_s(record, missing_s)
        except Refused:
            too_short = True
    return NextExposure(owed.part, owed.number, words, missing_s, on_time_s, rest=True, too_short=too_short)


def _patch(record: PrintRecord, strip: Sheet) -> NextExposure:
    number = len(strip.slots()) + 1
    wanted_s = strip.increments_s[number - 1]
    on_time_s = None if record.mode == "kept lit" else strip_on_times_s(record, strip)[number - 1]
    return NextExposure("strip", number, part_words(record, "strip", number), wanted_s, on_time_s)


def _burn(record: PrintRecord, sheet: Sheet) -> NextExposure:
    left = burns_left(record, sheet)
    if not left or sheet.base_s is None:
        raise Refused("this sheet has got all its light", where="lamp", allowed="finish it, or give it up")
    stops, _ = record.burns[left[0] - 1]
    return _timed(record, "burn", left[0], burn_s(sheet.base_s, stops))


def _base(record: PrintRecord) -> NextExposure:
    if record.base_s is None:
        raise Refused(
            "no exposure time is set",
            where="lamp",
            allowed="a base time, a strip, or the program kept"
            if record.strip() is None
            else "choose a patch once the strip is developed, or set a base time",
        )
    if record.copies_left == 0:
        raise Refused("all the prints wanted are made", where="lamp", allowed="ask for more copies")
    return _timed(record, "base", 1, record.base_s)


def _bulb(record: PrintRecord) -> NextExposure:
    sheet = record.sheet
    if sheet is not None and sheet.kind != "bulb":
        raise Refused(f"a {sheet.kind} lies there", where="lamp", allowed="finish it, or give it up")
    number = len(sheet.slots()) + 1 if sheet else 1
    return NextExposure("bulb", number, part_words(record, "bulb", number))
