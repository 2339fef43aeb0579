"""What the tables follow: runs, prints, baths and plates, each with its fold, its row and a version of it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from firmware_py.facts.events.run import Entry
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.bath_rows import BathRow, put_bath, row_of_bath
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.box_rows import BoxRow, HolderRow, put_box, put_holder, row_of_box, row_of_holder
from firmware_py.journal.life_record import PlateRecord
from firmware_py.journal.life_rows import PlateRow, put_plate, row_of_plate
from firmware_py.journal.places import Table, differences, place_of
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_rows import PrintRow, put_print, row_of_print
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.run_rows import RunRow, is_telling, put, replayed, row_of_run, words_of_run

NamedRow = PrintRow | BathRow | BoxRow | HolderRow | PlateRow


class Record(Protocol):
    """A subject as its fold makes it."""

    @property
    def state(self) -> str:
        """Get its state; nothing more comes after "ended" but remarks."""
        ...

    def apply(self, entry: Entry) -> None:
        """Take in the next entry, or raise Refused."""
        ...


@dataclass(frozen=True, slots=True)
class Followed:
    """A kind of subject by its ``first`` event. Raise ``version`` when a row would come out otherwise.

    ``faults`` tells what in a subject's row is not what these entries, all there are of it, replay to.
    """

    table: Table
    tables: tuple[str, ...]
    version: int
    first: str
    begin: Callable[[Entry], Record]
    replay: Callable[[Sequence[Entry]], Record]
    put: Callable[[sqlite3.Connection, Any], None]
    refill: Callable[[sqlite3.Connection, Sequence[Entry]], None]
    faults: Callable[[sqlite3.Connection, Sequence[Entry]], list[str]]
    is_telling: Callable[[Entry], bool]


def _put_run(connection: sqlite3.Connection, record: RunRecord) -> None:
    put(connection, row_of_run(record), words_of_run(record))


def _refill_run(connection: sqlite3.Connection, entries: Sequence[Entry]) -> None:
    put(connection, *replayed(entries))


def _faults_of_run(connection: sqlite3.Connection, entries: Sequence[Entry]) -> list[str]:
    row, words = replayed(entries)
    query = f"SELECT words, {', '.join('run.' + name for name in RunRow._fields)} FROM run "  # noqa: S608 - constants
    query += "LEFT JOIN run_words ON run_words.rowid = run.place WHERE run_id = ?"
    found = connection.execute(query, (row.run_id,)).fetchone()
    if found is None:
        return ["its row is missing"]
    wrong = [] if found[0] == words else ["its words for the search are not those of its events"]
    return differences(RunRow._fields, found[1:], row) + wrong


def _faults_of_row(connection: sqlite3.Connection, table: Table, row: NamedRow) -> list[str]:
    query = f"SELECT {', '.join(row._fields)} FROM {table} WHERE {table}_id = ?"  # noqa: S608 - constants
    found = connection.execute(query, (getattr(row, f"{table}_id"),)).fetchone()
    return differences(row._fields, found, row) if found else ["its row is missing"]


def _one_row(
    table: Table,
    first: str,
    record: type[Any],
    row_of: Callable[[Any], Any],
    put_row: Callable[[sqlite3.Connection, Any, int], None],
) -> Followed:
    """Return a kind of subject that has one row, in the table of its name, written at every entry."""

    def write(connection: sqlite3.Connection, subject: Record) -> None:
        row = row_of(subject)
        put_row(connection, row, place_of(connection, table, getattr(row, f"{table}_id")))

    def refill(connection: sqlite3.Connection, entries: Sequence[Entry]) -> None:
        write(connection, record.replay(entries))

    def faults(connection: sqlite3.Connection, entries: Sequence[Entry]) -> list[str]:
        return _faults_of_row(connection, table, row_of(record.replay(entries)))

    return Followed(
        table=table,
        tables=(table,),
        version=1,
        first=first,
        begin=record.begin,
        replay=record.replay,
        put=write,
        refill=refill,
        faults=faults,
        is_telling=lambda _: True,
    )


RUNS = Followed(
    table="run",
    tables=("run", "run_words"),
    version=3,
    first="RunOpened",
    begin=RunRecord.begin,
    replay=RunRecord.replay,
    put=_put_run,
    refill=_refill_run,
    faults=_faults_of_run,
    is_telling=is_telling,
)
PRINTS = _one_row("print", "PrintOpened", PrintRecord, row_of_print, put_print)
BATHS = _one_row("bath", "BathMade", BathRecord, row_of_bath, put_bath)
BOXES = _one_row("box", "BoxEntered", BoxRecord, row_of_box, put_box)
HOLDERS = _one_row("holder", "HolderEntered", HolderRecord, row_of_holder, put_holder)
PLATES = _one_row("plate", "PlateBoxed", PlateRecord, row_of_plate, put_plate)
FOLLOWED: tuple[Followed, ...] = (RUNS, PRINTS, BATHS, BOXES, HOLDERS, PLATES)
