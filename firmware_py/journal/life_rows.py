"""One row for each plate of the book, as lists and the bench want it: made from the fold alone."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from typing import NamedTuple

import msgspec

from firmware_py.craft.refusal import Refused, shown
from firmware_py.facts.events.life import Stage
from firmware_py.journal.life_record import PlateRecord


class PlateRow(NamedTuple):
    """A plate at its event number ``number``.

    ``holder``, ``side``, ``loaded_utc`` and ``left_utc`` are of its last loading, ``left_utc`` None while it
    lies there still; ``exposure`` is the last `ExposureNoted` as JSON; ``run_id`` the last run it was laid
    out for; ``runs`` and ``notes`` are counts.
    """

    plate_id: str
    number: int
    name: str
    box_id: str
    box: str
    rehearsal: bool
    boxed_utc: str
    stage: str
    since_utc: str
    holder_id: str | None
    holder: str | None
    side: str | None
    loaded_utc: str | None
    left_utc: str | None
    exposed_utc: str | None
    exposure: str | None
    run_id: str | None
    runs: int
    filed: str
    broken: str
    notes: int


class EmptiedSide(NamedTuple):
    """The last plate that left a side of a holder, and when."""

    holder_id: str
    side: str
    left_utc: str
    name: str


COLUMNS = ", ".join(PlateRow._fields)
_PUT = f"INSERT OR REPLACE INTO plate (place, {COLUMNS}) VALUES (?{', ?' * len(PlateRow._fields)})"  # noqa: S608 - constants
_AT_REST = "('filed', 'broken')"


def row_of_plate(record: PlateRecord) -> PlateRow:
    """Return the row of a plate as it stands."""
    loading = record.loading
    return PlateRow(
        plate_id=record.subject,
        number=record.number,
        name=record.name,
        box_id=record.boxed.box_id,
        box=record.boxed.box,
        rehearsal=record.boxed.rehearsal,
        boxed_utc=record.boxed_utc,
        stage=record.stage,
        since_utc=record.since_utc,
        holder_id=loading.holder_id if loading else None,
        holder=loading.holder if loading else None,
        side=loading.side if loading else None,
        loaded_utc=loading.loaded_utc if loading else None,
        left_utc=loading.left_utc or None if loading else None,
        exposed_utc=record.exposed_utc or None,
        exposure=msgspec.json.encode(record.exposure).decode() if record.exposure else None,
        run_id=record.run_id,
        runs=len(record.runs),
        filed=record.filed,
        broken=record.broken,
        notes=len(record.notes),
    )


def put_plate(connection: sqlite3.Connection, row: PlateRow, place: int) -> None:
    """Write a plate's row in place of the one there was."""
    connection.execute(_PUT, (place, *row))


def plates_at_hand(connection: sqlite3.Connection, at_rest: int) -> list[PlateRow]:
    """Return the plates neither filed nor broken, and the last ``at_rest`` of the others; oldest first."""
    query = f"SELECT {COLUMNS} FROM plate WHERE stage NOT IN {_AT_REST} ORDER BY place"  # noqa: S608 - constants
    lately = f"SELECT {COLUMNS} FROM plate WHERE stage IN {_AT_REST} ORDER BY since_utc DESC LIMIT ?"  # noqa: S608 - constants
    rested = _rows(connection.execute(lately, (at_rest,)))
    return sorted((*_rows(connection.execute(query)), *rested), key=lambda row: row.plate_id)


def newest_plates(
    connection: sqlite3.Connection,
    limit: int = 50,
    *,
    box: str = "",
    stage: Stage | None = None,
    exposed: bool = False,
) -> list[PlateRow]:
    """Return plates, newest first: those of a box (its name), at a stage, or with a noted exposure."""
    wanted = {"box = ? COLLATE NOCASE": box or None, "stage = ?": stage}
    said = {test: value for test, value in wanted.items() if value is not None}
    tests = [*said, *(["exposure IS NOT NULL"] if exposed else [])]
    where = f"WHERE {' AND '.join(tests)} " if tests else ""
    query = f"SELECT {COLUMNS} FROM plate {where}ORDER BY place DESC LIMIT ?"  # noqa: S608 - constants
    return _rows(connection.execute(query, (*said.values(), limit)))


def plates_of_run(connection: sqlite3.Connection, run_id: str) -> list[PlateRow]:
    """Return the plates whose last run that is, oldest first."""
    query = f"SELECT {COLUMNS} FROM plate WHERE run_id = ? ORDER BY place"  # noqa: S608 - constants
    return _rows(connection.execute(query, (run_id,)))


def plates_in_holders(connection: sqlite3.Connection) -> list[PlateRow]:
    """Return the plates that lie in a holder now, the one loaded last as the last."""
    query = (
        f"SELECT {COLUMNS} FROM plate WHERE stage IN ('loaded', 'exposed') "  # noqa: S608 - constants
        "AND holder_id IS NOT NULL AND left_utc IS NULL ORDER BY loaded_utc, place"
    )
    return _rows(connection.execute(query))


def plate_called(connection: sqlite3.Connection, words: str) -> PlateRow:
    """Return the newest plate of that name, or the last that lay in that side of a holder.

    Raises `Refused` where there is none.
    """
    query = (
        f"SELECT {COLUMNS} FROM plate WHERE name = ?1 COLLATE NOCASE OR holder || side = ?1 COLLATE NOCASE "  # noqa: S608 - constants
        "ORDER BY name = ?1 COLLATE NOCASE DESC, coalesce(left_utc, '~') DESC, place DESC LIMIT 1"
    )
    found = _rows(connection.execute(query, (" ".join(words.split()),)))
    if not found:
        what = f"no plate or side is called {shown(words)}"
        raise Refused(what, where="plates", allowed="see `embertray logbook plates`")
    return found[0]


def count_by_stage(connection: sqlite3.Connection) -> dict[str, dict[str, int]]:
    """Return, by the id of each box, how many of its plates there are at each stage."""
    counts: dict[str, dict[str, int]] = {}
    query = "SELECT box_id, stage, count(*) FROM plate GROUP BY box_id, stage"
    for box_id, stage, count in connection.execute(query):
        counts.setdefault(str(box_id), {})[str(stage)] = int(count)
    return counts


def emptied_sides(connection: sqlite3.Connection) -> list[EmptiedSide]:
    """Return for each side of each holder in use the plate that left it last.

    Side by side: each is one look into the index, where a grouping would read every plate there ever was.
    """
    query = (
        "SELECT holder_id, side, left_utc, name FROM plate WHERE holder_id = ? AND side = ? "
        "AND left_utc IS NOT NULL ORDER BY left_utc DESC LIMIT 1"
    )
    in_use = connection.execute("SELECT holder_id, sides FROM holder WHERE state <> 'ended' ORDER BY place")
    keys = [(holder_id, side) for holder_id, sides in in_use for side in msgspec.json.decode(sides)]
    found = (connection.execute(query, key).fetchone() for key in keys)
    return [EmptiedSide._make(one) for one in found if one is not None]


def _rows(found: Iterable[tuple[object, ...]]) -> list[PlateRow]:
    return [row._replace(rehearsal=bool(row.rehearsal)) for row in map(PlateRow._make, found)]
