"""One row for each box of plates and each holder: made from the folds, never from anything else."""

from __future__ import annotations

import sqlite3
from typing import NamedTuple

import msgspec

from firmware_py.journal.box_record import BoxRecord, HolderRecord


class BoxRow(NamedTuple):
    """A box at its event number ``number``; the rest as in `BoxEntered`."""

    box_id: str
    number: int
    name: str
    size: str
    emulsion: str
    sensitivity: str | None
    speed_index: float | None
    batch: str
    opened_utc: str
    rehearsal: bool
    state: str
    finished: str


class HolderRow(NamedTuple):
    """A holder at its event number ``number``; ``sides`` is a JSON list of their names."""

    holder_id: str
    number: int
    name: str
    sides: str
    size: str
    rehearsal: bool
    state: str
    set_aside: str


_BOX, _HOLDER = ", ".join(BoxRow._fields), ", ".join(HolderRow._fields)
_PUT_BOX = f"INSERT OR REPLACE INTO box (place, {_BOX}) VALUES (?{', ?' * len(BoxRow._fields)})"  # noqa: S608 - constants
_PUT_HOLDER = f"INSERT OR REPLACE INTO holder (place, {_HOLDER}) VALUES (?{', ?' * len(HolderRow._fields)})"  # noqa: S608 - constants


def row_of_box(record: BoxRecord) -> BoxRow:
    """Return the row of a box as it stands."""
    kind = record.kind
    return BoxRow(
        box_id=record.subject,
        number=record.number,
        name=record.name,
        size=kind.size,
        emulsion=kind.emulsion,
        sensitivity=kind.sensitivity,
        speed_index=kind.speed_index,
        batch=kind.batch,
        opened_utc=kind.opened_utc,
        rehearsal=record.entered.rehearsal,
        state=record.state,
        finished=record.finished,
    )


def row_of_holder(record: HolderRecord) -> HolderRow:
    """Return the row of a holder as it stands."""
    return HolderRow(
        holder_id=record.subject,
        number=record.number,
        name=record.name,
        sides=msgspec.json.encode(record.sides).decode(),
        size=record.entered.size,
        rehearsal=record.entered.rehearsal,
        state=record.state,
        set_aside=record.set_aside,
    )


def put_box(connection: sqlite3.Connection, row: BoxRow, place: int) -> None:
    """Write a box's row in place of the one there was."""
    connection.execute(_PUT_BOX, (place, *row))


def put_holder(connection: sqlite3.Connection, row: HolderRow, place: int) -> None:
    """Write a holder's row in place of the one there was."""
    connection.execute(_PUT_HOLDER, (place, *row))


def boxes(connection: sqlite3.Connection, *, finished: bool = False) -> list[BoxRow]:
    """Return the boxes in use, oldest first; with ``finished`` the others too."""
    where = "" if finished else "WHERE state <> 'ended' "
    found = connection.execute(f"SELECT {_BOX} FROM box {where}ORDER BY place")  # noqa: S608 - constants
    return [row._replace(rehearsal=bool(row.rehearsal)) for row in map(BoxRow._make, found)]


def holders(connection: sqlite3.Connection, *, set_aside: bool = False) -> list[HolderRow]:
    """Return the holders in use, oldest first; with ``set_aside`` the others too."""
    where = "" if set_aside else "WHERE state <> 'ended' "
    found = connection.execute(f"SELECT {_HOLDER} FROM holder {where}ORDER BY place")  # noqa: S608 - constants
    return [row._replace(rehearsal=bool(row.rehearsal)) for row in map(HolderRow._make, found)]
