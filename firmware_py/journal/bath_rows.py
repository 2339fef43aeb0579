"""One row for each bath, as the bench and lists want it: made from the fold, never from anything else."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from typing import NamedTuple

from firmware_py.craft.refusal import shown
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.refused import JournalRefused


class BathRow(NamedTuple):
    """A bath at its event number ``number``; ``runs`` is a count, the rest as in `BathRecord`."""

    bath_id: str
    number: int
    name: str
    formula: str
    kind: str
    rehearsal: bool
    made_utc: str
    state: str
    volume_ml: float
    done_cm2: float
    runs: int
    clearing_s: float | None
    fresh_clearing_s: float | None


COLUMNS = ", ".join(BathRow._fields)
_PUT = (
    f"INSERT OR REPLACE INTO bath (place, {COLUMNS}) "  # noqa: S608 - constants
    f"VALUES ({', '.join('?' * (len(BathRow._fields) + 1))})"
)


def row_of_bath(record: BathRecord) -> BathRow:
    """Return the row of a bath as it stands."""
    return BathRow(
        bath_id=record.subject,
        number=record.number,
        name=record.name,
        formula=record.made.formula,
        kind=record.made.kind,
        rehearsal=record.made.rehearsal,
        made_utc=record.made_utc,
        state=record.state,
        volume_ml=record.made.volume_ml,
        done_cm2=record.done_cm2,
        runs=record.runs,
        clearing_s=record.clearing_s,
        fresh_clearing_s=record.fresh_clearing_s,
    )


def put_bath(connection: sqlite3.Connection, row: BathRow, place: int) -> None:
    """Write a bath's row in place of the one there was."""
    connection.execute(_PUT, (place, *row))


def open_baths(connection: sqlite3.Connection) -> list[BathRow]:
    """Return the baths that are not discarded, oldest first."""
    query = f"SELECT {COLUMNS} FROM bath WHERE state <> 'ended' ORDER BY place"  # noqa: S608 - constants
    return _rows(connection.execute(query))


def bath_called(connection: sqlite3.Connection, name: str) -> BathRow:
    """Return the newest bath of that name, or the one whose id it is; raise `JournalRefused` for none.

    Capitals do not matter. A bath in use comes before one that is discarded.
    """
    query = (
        f"SELECT {COLUMNS} FROM bath WHERE bath_id = ? OR name = ? COLLATE NOCASE "  # noqa: S608 - constants
        "ORDER BY state = 'ended', place DESC LIMIT 1"
    )
    found = _rows(connection.execute(query, (name.lower(), name)))
    if not found:
        names = ", ".join(dict.fromkeys(row.name for row in open_baths(connection))) or "none is in use"
        raise JournalRefused("there is no such bath", where=f"bath {shown(name)}", allowed=names)
    return found[0]


def _rows(found: Iterable[tuple[object, ...]]) -> list[BathRow]:
    return [row._replace(rehearsal=bool(row.rehearsal)) for row in map(BathRow._make, found)]
