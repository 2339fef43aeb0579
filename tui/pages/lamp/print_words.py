"""The print in words: strip patch by patch, base, burns, repeats, sheets."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.print import BurnView, PatchView, PrintView, StripView
from tui.pages.shared.time_words import cut, printable

BASE_FROM = {
    "person": "as said",
    "patch": "from the strip",
    "distance": "by distance",
    "paper": "by paper speed",
    "program": "as kept",
}


@dataclass(frozen=True, slots=True)
class PartLine:
    """A line about a part of the work; ``here`` marks the one that counts now."""

    words: str
    here: bool = False


def open_print(view: BenchView | None) -> PrintView | None:
    """Return the print that is open."""
    if view is None or view.print is None or not view.print.is_open:
        return None
    return view.print


def last_print(view: BenchView | None) -> PrintView | None:
    """Return the last print where it is over and no other is open."""
    if view is None or view.print is None or view.print.is_open:
        return None
    return view.print


def seconds(time_s: float) -> str:
    """Return seconds of light as short as they can be told apart: ``2.83 s``, ``11.3 s``, ``128 s``."""
    return f"{time_s:.{2 if time_s < 9.995 else 1 if time_s < 99.95 else 0}f} s"


def stops_words(stops: float) -> str:
    """Return stops as short as can be."""
    return f"{stops:+.2f}".rstrip("0").rstrip(".") + " stop"


def title(view: BenchView) -> str:
    """Return negative, paper, distance and lamp."""
    here = open_print(view)
    lamp = printable(view.lamp.name)
    if here is None:
        return f" No print   {lamp}"
    away = f"   {here.distance_mm:.0f} mm" if here.distance_mm else ""
    paper = " ".join(printable(text) for text in (here.paper, here.grade) if text)
    return f" {printable(here.negative)}   {paper}{away}   {lamp}"


def print_lines(here: PrintView, width: int, rows: int) -> list[PartLine]:
    """Return base, burns, repeats and strip, as many lines as there is room for."""
    lines = [_base(here, width)]
    lines += [PartLine(cut(_burn(burn), width)) for burn in here.burns]
    lines.append(PartLine(cut(_copies(here), width)))
    if here.sheet is not None and here.sheet.kind != "strip":
        lines.append(PartLine(cut(_sheet(here), width), here=True))
    if here.strip is not None:
        lines += [PartLine(""), *_strip(here.strip, here.chosen_patch, width, rows - len(lines) - 1)]
    return lines[:rows]


def _base(here: PrintView, width: int) -> PartLine:
    if here.base_s is None:
        return PartLine("Base: not set")
    how = f", {BASE_FROM[here.base_from]}" if here.base_from else ""
    if here.base_from == "patch" and here.chosen_patch is not None:
        how = f", patch {here.chosen_patch:g}"
    return PartLine(cut(f"Base {seconds(here.base_s)}{how}", width))


def _burn(burn: BurnView) -> str:
    name = printable(burn.place) or str(burn.burn)
    if burn.given:
        return f"Burn {name}: given"
    extra = f" {seconds(burn.extra_s)}" if burn.extra_s is not None else ""
    return f"Burn {name} {stops_words(burn.stops)}{extra}"


def _copies(here: PrintView) -> str:
    left = "" if here.copies_left is None else f", {here.copies_left} left"
    return f"Prints: {here.prints_finished} made{left}"


def _sheet(here: PrintView) -> str:
    sheet = here.sheet
    if sheet is None:
        return ""
    if sheet.wanted_s is not None and sheet.given_s == 0.0:
        return f"Sheet {sheet.sheet} gets {seconds(sheet.wanted_s)}"
    given = seconds(sheet.given_s)
    if sheet.wanted_s is None:
        return f"Sheet {sheet.sheet} got {given}"
    return f"Sheet {sheet.sheet}: {given.removesuffix(' s')} of {seconds(sheet.wanted_s)}"


def _strip(strip: StripView, chosen: float | None, width: int, rows: int) -> list[PartLine]:
    state = "done" if strip.finished else f"{strip.exposed} of {len(strip.patches)}"
    head = PartLine(cut(f"Strip {stops_words(strip.step_stops)[1:]}: {state}", width))
    covered = strip.exposed if strip.method == "covering" else 0
    room = max(1, rows - 1)
    first = max(0, min(_looked_at(strip, chosen) - room // 2, len(strip.patches) - room))
    return [head, *(_patch(patch, covered, width) for patch in strip.patches[first : first + room])]


def _looked_at(strip: StripView, chosen: float | None) -> int:
    return round(chosen) - 1 if chosen is not None else strip.exposed


def _patch(patch: PatchView, covered: int, width: int) -> PartLine:
    """Return a patch in a line; the first ``covered`` ones have all their light already."""
    time_s = patch.wanted_s if patch.given_s is None else patch.given_s
    has_got = patch.given_s is not None or patch.patch <= covered
    state = "CHOSEN" if patch.chosen else "got" if has_got else "to get"
    start = f"{patch.patch:>2} {seconds(time_s):>8}"
    return PartLine(f"{start} {state:>{width - len(start) - 1}}", here=patch.chosen)
