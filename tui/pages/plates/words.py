"""The book of plates in words: sides, plates on their way, boxes; shape and word tell each apart."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.life import ExposureNoted
from firmware_py.facts.views.plates import BoxView, LifeView, PlatesView, SideView
from firmware_py.journal.beside_daylight import beside_daylight
from tui.pages.plates.exposure_words import daylight_words, given_words, light_words, when_words
from tui.pages.shared.time_words import cut, printable, time_words

SIDE_COLUMNS, PLATE_COLUMNS, STATE_COLUMNS = 6, 20, 28
# Empty, holding an unexposed plate, holding an exposed one: told apart by shape in any light.
_SHAPES: Mapping[str | None, str] = {None: "[   ]", "loaded": "[ ■ ]", "exposed": "[■■■]"}


@dataclass(frozen=True, slots=True)
class PlateRow:
    """A row of the page: a side of a holder with or without a plate, or a plate outside every holder."""

    key: str
    side: str
    plate: LifeView | None
    since_utc: str


def plate_rows(view: PlatesView) -> tuple[PlateRow, ...]:
    """Return every side by its holder, then the plates that are out of box and holder."""
    by_name = {plate.name: plate for plate in view.plates}
    sides = [_side(side, by_name) for holder in view.holders for side in holder.sides]
    out = [plate for plate in view.plates if not plate.side]
    return (*sides, *(PlateRow(plate.plate_id, "", plate, plate.since_utc) for plate in out))


def _side(side: SideView, by_name: Mapping[str, LifeView]) -> PlateRow:
    return PlateRow(f"side {side.name}", side.name, by_name.get(side.plate), side.since_utc)


def plate_heads(width: int) -> str:
    """Return what stands above the rows."""
    heads = f"{'side':<{SIDE_COLUMNS}}       {'plate':<{PLATE_COLUMNS}} {'what it is':<{STATE_COLUMNS}} since"
    return cut(f"     {heads}", width)


def plate_line(row: PlateRow, number: int, utc: str, width: int, *, here: bool) -> str:
    """Return a row in one line: its key, the side, its shape, the plate, what it is, since when."""
    key, sign = str(number) if number <= 9 else " ", "►" if here else " "
    shape = _SHAPES.get(row.plate.stage if row.plate else None, "") if row.side else ""
    name = cut(printable(row.plate.name), PLATE_COLUMNS) if row.plate else ""
    state = cut(state_words(row.plate), STATE_COLUMNS)
    cells = (
        f"{printable(row.side):<{SIDE_COLUMNS}} {shape:<5} {name:<{PLATE_COLUMNS}} {state:<{STATE_COLUMNS}}"
    )
    return cut(f" {key} {sign} {cells} {since_words(row.since_utc, utc)}", width)


def state_words(plate: LifeView | None) -> str:
    """Return what a plate is, and what is still to be said of it."""
    if plate is None:
        return "empty"
    if plate.stage == "exposed":
        noted = "" if plate.exposure is not None else ", not written down"
        return f"EXPOSED, {plate.tray}" if plate.tray else f"EXPOSED{noted}"
    return f"{plate.stage}, {plate.tray}" if plate.tray else plate.stage


def since_words(since_utc: str, utc: str) -> str:
    """Return since when, by the hour today, by the day before."""
    if not since_utc:
        return ""
    since, now = (datetime.fromisoformat(text).astimezone() for text in (since_utc, utc))
    return since.strftime("%H:%M") if since.date() == now.date() else since.strftime("%Y-%m-%d")


def waiting_plates(view: PlatesView) -> list[LifeView]:
    """Return the exposed plates that wait for their development, in no tray yet."""
    return [plate for plate in view.plates if plate.stage == "exposed" and not plate.tray]


def waiting_words(view: PlatesView) -> str:
    """Return how many exposed plates wait for their development, and how many lie loaded."""
    exposed = len(waiting_plates(view))
    loaded = sum(plate.stage == "loaded" for plate in view.plates)
    more = f"; {view.more} older plates are not shown" if view.more else ""
    return f" {exposed} exposed and waiting for development; {loaded} loaded{more}"


def box_line(box: BoxView) -> str:
    """Return a box in one line: what is left in it, and what its plates are."""
    left = f"{box.left} left, {printable(box.next_plate)} next" if box.left else "EMPTY"
    facts = (
        f"box {printable(box.name)}: {left}",
        f"safe {time_words(round(box.safe_s))} by your test" if box.safe_s else "no safelight test",
        box.sensitivity or "nobody said what it sees",
        f"index {box.speed_index:g}" if box.speed_index is not None else "",
        printable(box.size),
        printable(box.batch),
    )
    return "; ".join(fact for fact in facts if fact)


def exposure_lines(plate: LifeView) -> list[str]:
    """Return what is written down of a plate's exposure, beside what daylight would have said."""
    noted = plate.exposure
    if noted is None:
        return ["Its exposure is not written down: W"] if plate.stage == "exposed" else []
    where = ", ".join(part for part in (when_words(noted), printable(noted.where)) if part)
    seen = ", ".join(part for part in (printable(noted.subject), light_words(noted)) if part)
    beside = beside_words(noted, plate.sensitivity, plate.speed_index)
    lines = [f"{printable(plate.name)}: {given_words(noted)}", seen, where, beside, printable(noted.remark)]
    return [line for line in lines if line]


@lru_cache(maxsize=64)
def beside_words(noted: ExposureNoted, sensitivity: str | None, speed_index: float | None) -> str:
    """Return what daylight would have said, or why it can not say."""
    try:
        return daylight_words(beside_daylight(noted, sensitivity, speed_index), "")
    except Refused as refused:
        return daylight_words(None, refused.what)
