"""One row for each print, as lists and the bench want it: made from the fold, never from anything else."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from typing import NamedTuple

import msgspec

from firmware_py.journal.print_outcome import print_outcome
from firmware_py.journal.print_record import PrintRecord


class PrintRow(NamedTuple):
    """A print at its event number ``number``; the columns are those of `PrintOutcome`.

    ``burns`` and ``program_burns`` are JSON lists of (stops, place); ``patches`` and ``prints`` are counts.
    """

    print_id: str
    number: int
    negative: str
    run_id: str | None
    paper: str
    grade: str
    paper_log_range: float | None
    paper_speed: float | None
    distance_mm: float | None
    rehearsal: bool
    opened_utc: str
    state: str
    mode: str
    base_s: float | None
    burns: str
    patches: int
    chosen_patch: float | None
    prints: int
    planned_s: float | None
    measured_s: float | None
    effective_s: float | None
    doubt_s: float
    program_base_s: float | None
    program_burns: str | None
    verdict: str | None


COLUMNS = ", ".join(PrintRow._fields)
_PUT = (
    f"INSERT OR REPLACE INTO print (place, {COLUMNS}) "  # noqa: S608 - constants
    f"VALUES ({', '.join('?' * (len(PrintRow._fields) + 1))})"
)


def row_of_print(record: PrintRecord) -> PrintRow:
    """Return the row of a print as it stands."""
    came = print_outcome(record)
    program = record.program
    return PrintRow(
        print_id=came.print_id,
        number=record.number,
        negative=came.negative,
        run_id=came.run_id,
        paper=came.paper,
        grade=came.grade,
        paper_log_range=came.paper_log_range,
        paper_speed=came.paper_speed,
        distance_mm=came.distance_mm,
        rehearsal=came.rehearsal,
        opened_utc=came.opened_utc,
        state=came.state,
        mode=came.mode,
        base_s=came.base_s,
        burns=_json(record.burns),
        patches=len(came.patches),
        chosen_patch=came.chosen_patch,
        prints=came.prints,
        planned_s=came.planned_s,
        measured_s=came.measured_s,
        effective_s=came.effective_s,
        doubt_s=came.doubt_s,
        program_base_s=program.base_s if program else None,
        program_burns=_json(program.burns) if program else None,
        verdict=came.verdicts[-1] if came.verdicts else None,
    )


def put_print(connection: sqlite3.Connection, row: PrintRow, place: int) -> None:
    """Write a print's row in place of the one there was."""
    connection.execute(_PUT, (place, *row))


def newest_prints(
    connection: sqlite3.Connection, limit: int = 50, *, of_run: str | None = None
) -> list[PrintRow]:
    """Return prints, newest first; with ``of_run``, those made from that run's plate."""
    where, values = ("WHERE run_id = ? ", (of_run, limit)) if of_run else ("", (limit,))
    query = f"SELECT {COLUMNS} FROM print {where}ORDER BY place DESC LIMIT ?"  # noqa: S608 - constants
    return _rows(connection.execute(query, values))


def open_prints(connection: sqlite3.Connection) -> list[PrintRow]:
    """Return the prints that have not ended, oldest first."""
    query = f"SELECT {COLUMNS} FROM print WHERE state <> 'ended' ORDER BY place"  # noqa: S608 - constants
    return _rows(connection.execute(query))


def newest_programs(connection: sqlite3.Connection, limit: int = 500) -> list[PrintRow]:
    """Return the newest print that kept a program, for each negative, newest first."""
    query = (
        f"SELECT {COLUMNS} FROM print WHERE place IN "  # noqa: S608 - constants
        "(SELECT max(place) FROM print WHERE program_base_s IS NOT NULL GROUP BY coalesce(run_id, negative)) "
        "ORDER BY place DESC LIMIT ?"
    )
    return _rows(connection.execute(query, (limit,)))


def _rows(found: Iterable[tuple[object, ...]]) -> list[PrintRow]:
    return [row._replace(rehearsal=bool(row.rehearsal)) for row in map(PrintRow._make, found)]


def _json(burns: object) -> str:
    return msgspec.json.encode(burns).decode()
