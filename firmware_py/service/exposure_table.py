"""The table of exposures written down at the day sheet: read line by line, or an empty one to fill in."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import msgspec

from firmware_py.craft.exposure_note import (
    read_extension_factor,
    read_filter_factor,
    read_given_s,
    read_light,
    read_taken,
)
from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.scene import subject_called
from firmware_py.craft.stops import read_stop
from firmware_py.facts.acts.plate import MOST_LINES, ImportExposures, NoteExposure, WrittenLine
from firmware_py.journal import cells as table_cells
from firmware_py.service.checked_act import in_words
from firmware_py.strict_toml import open_plain_file

# The columns of the day sheet, in its order, and those that its last one has room for.
COLUMNS = (
    "Side", "When", "Subject", "Stop", "Time", "Filter", "Extension", "Light", "Scene", "Where", "Plate",
    "Remark",
)  # fmt: skip
MOST_BYTES = 256 * 1024
_BEGINS = {"remark": "Remark"}  # as it is printed: "Remark: filter, extension, sky"


@dataclass(frozen=True, slots=True)
class Hours:
    """What an hour alone in a table belongs to: a date, and the offset from UTC of its hours."""

    day: str = ""
    offset: str = ""


Values = dict[str, object]
Reader = Callable[[str, Hours], Values]


def read_table(path: Path, hours: Hours) -> ImportExposures:
    """Return what a table of exposures (CSV, UTF-8; comma, semicolon or tab) says, as one act.

    Raises Refused with file, line, column and what is allowed there, for the first line that is wrong, and
    how many more are. Nothing of such a table is taken in.
    """
    rows = _rows(path)
    names = _names(next(rows)[1], f"{path.name}, line 1")
    lines: list[WrittenLine] = []
    refused: list[Refused] = []
    for number, cells in rows:
        if not any(cell.strip() for cell in cells):
            continue
        try:
            lines.append(_line(number, _by_name(names, cells), hours))
        except Refused as refusal:
            refused.append(refusal.at(f"{path.name}, line {number}"))
    if refused:
        raise _first_of(refused)
    if not 1 <= len(lines) <= MOST_LINES:
        words = f"{len(lines)} exposures"
        raise Refused(words, where=path.name, allowed=f"1 to {MOST_LINES} in one table")
    return ImportExposures(lines=tuple(lines))


def empty_table(sides: Iterable[tuple[str, str]]) -> str:
    """Return a table to fill in, with a line for each of these (side, plate)."""
    file = io.StringIO()
    table = csv.writer(file, lineterminator="\n")
    table.writerow(COLUMNS)
    for side, plate in sides:
        table.writerow(
            [table_cells.cell({"Side": side, "Plate": plate}.get(column, "")) for column in COLUMNS]
        )
    return file.getvalue()


def _rows(path: Path) -> Iterator[tuple[int, list[str]]]:
    """Yield the lines of a table with their numbers, its headings first."""
    text = _text(path)
    head = text.partition("\n")[0]
    delimiter = max(",;\t", key=head.count)
    table = csv.reader(io.StringIO(text), delimiter=delimiter, strict=True)
    try:
        for cells in table:
            yield table.line_num, list(map(table_cells.read_cell, cells))
    except csv.Error as error:
        where = f"{path.name}, line {table.line_num}"
        raise Refused(
            f"it can not be read: {error}", where=where, allowed="CSV as spreadsheets write it"
        ) from None


def _text(path: Path) -> str:
    with open_plain_file(path) as file:
        raw = file.read(MOST_BYTES + 1)
    if len(raw) > MOST_BYTES:
        raise Refused("it is too long", where=str(path), allowed=f"up to {MOST_BYTES // 1024} KiB")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refused("it is not UTF-8", where=str(path), allowed="CSV saved as UTF-8") from None
    if not text.strip():
        raise Refused("it is empty", where=str(path), allowed=f"a first line with {', '.join(COLUMNS)}")
    return text


def _names(cells: Sequence[str], where: str) -> list[str]:
    """Return which column each heading means."""
    known = {column.casefold(): column for column in COLUMNS}
    names = []
    for cell in cells:
        plain = cell.strip().casefold()
        begins = next((name for begin, name in _BEGINS.items() if plain.startswith(begin)), None)
        name = begins or known.get(plain)
        if name is None or name in names:
            what = f"two columns {shown(cell)}" if name else f"there is no column {shown(cell)}"
            raise Refused(what, where=where, allowed=", ".join(COLUMNS))
        names.append(name)
    if not {"Side", "Plate"} & set(names):
        raise Refused("neither Side nor Plate", where=where, allowed="a column that says which plate it was")
    return names


def _by_name(names: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    if len(cells) > len(names):
        raise Refused(f"{len(cells)} cells", allowed=f"{len(names)}, as the first line has; quote a comma")
    return dict(zip(names, (cell.strip() for cell in cells), strict=False))


def _line(number: int, cells: Mapping[str, str], hours: Hours) -> WrittenLine:
    values: Values = {}
    for column, text in cells.items():
        if text and column in _READERS:
            values |= _read(column, text, hours)
    plate = cells.get("Plate") or cells.get("Side")
    if not plate:
        raise Refused("nothing says which plate it was", where="Side", allowed="a side, as 3A, or a plate")
    try:
        note = msgspec.convert({**values, "act": _TAG, "plate": plate}, NoteExposure)
    except msgspec.ValidationError as error:
        raise in_words(str(error)) from None
    return WrittenLine(line=number, note=note)


def _read(column: str, text: str, hours: Hours) -> Values:
    try:
        return _READERS[column](text, hours)
    except Refused as refused:
        if refused.where == column:
            raise
        raise refused.at(column) from None


def _light(text: str, _: Hours) -> Values:
    sky, lighting = read_light(text, where="Light")
    return {"sky": sky, "lighting": lighting}


def _scene(text: str, _: Hours) -> Values:
    subject_called(text.casefold())
    return {"scene": text.casefold()}


_TAG = NoteExposure.__struct_config__.tag
_READERS: Mapping[str, Reader] = {
    "When": lambda text, hours: {"taken": read_taken(text, where="When", day=hours.day, offset=hours.offset)},
    "Where": lambda text, _: {"where": text},
    "Subject": lambda text, _: {"subject": text},
    "Stop": lambda text, _: {"stop": text, "f_number": read_stop(text, where="Stop")},
    "Time": lambda text, _: {"time_s": read_given_s(text, where="Time")},
    "Filter": lambda text, _: {"filters": text, "filter_factor": read_filter_factor(text, where="Filter")},
    "Extension": lambda text, _: {
        "extension": text,
        "extension_factor": read_extension_factor(text, where="Extension"),
    },
    "Light": _light,
    "Scene": _scene,
    "Remark": lambda text, _: {"remark": text},
}


def _first_of(refused: Sequence[Refused]) -> Refused:
    first, more = refused[0], len(refused) - 1
    if not more:
        return first
    lines = "line is" if more == 1 else "lines are"
    return Refused(f"{first.what} ({more} more {lines} wrong)", where=first.where, allowed=first.allowed)
