"""The tables that follow from the events: kept in step in the same transaction, made anew at any time."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Collection, Iterator, Sequence

from firmware_py.craft.refusal import Refused
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.bath_rows import BathRow, row_of_bath
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.box_rows import BoxRow, HolderRow, row_of_box, row_of_holder
from firmware_py.journal.events import Entry
from firmware_py.journal.followed import FOLLOWED, Followed, Record
from firmware_py.journal.life_record import PlateRecord
from firmware_py.journal.life_rows import PlateRow, row_of_plate
from firmware_py.journal.places import Table, differences
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_rows import PrintRow, row_of_print
from firmware_py.journal.reading import entries_of, first_kind_of, subjects_of
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.run_rows import RunRow, replayed

NamedRow = PrintRow | BathRow | BoxRow | HolderRow | PlateRow
_KEPT = 64  # runs, prints, plates and sessions kept at hand between two appends


class Projections:
    """The follower of one writing connection. After a failed transaction call `forget`."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self._records: dict[str, tuple[Followed, Record] | None] = {}

    def follow(self, entries: Sequence[Entry]) -> None:
        """Bring the tables in step with ``entries``, which are about to be written in this transaction.

        Raises `JournalRefused` for an entry that can not happen to its subject as it stands.
        """
        last_telling = {e.subject: e.number for e in entries if _is_telling(e)}
        for entry in entries:
            followed = self._applied(entry)
            if followed is not None and last_telling.get(entry.subject) == entry.number:
                kind, record = followed
                kind.put(self._connection, record)
        self._let_go()

    def forget(self) -> None:
        """Drop what is kept at hand; the next append reads it anew from the events."""
        self._records.clear()

    def bring_up_to_date(self) -> None:
        """Make the tables anew if they come from a program that made them otherwise."""
        found = dict(self._connection.execute("SELECT name, version FROM projection").fetchall())
        if found != {kind.table: kind.version for kind in FOLLOWED}:
            self.rebuild()

    def rebuild(self) -> int:
        """Make all tables anew from the events, in one transaction; return the number of runs and prints."""
        self.forget()
        self._connection.execute("BEGIN IMMEDIATE")
        try:
            rows = sum(self._refill(kind) for kind in FOLLOWED)
            self._connection.execute("COMMIT")
        except BaseException:
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")
            raise
        return rows

    def _refill(self, kind: Followed) -> int:
        for table in kind.tables:
            self._connection.execute(f"DELETE FROM {table}")  # noqa: S608 - constants
        subjects = subjects_of(self._connection, kind.first)
        for subject in subjects:
            kind.refill(self._connection, entries_of(self._connection, subject))
        version = (kind.table, kind.version)
        self._connection.execute("INSERT OR REPLACE INTO projection VALUES (?, ?)", version)
        return len(subjects)

    def _applied(self, entry: Entry) -> tuple[Followed, Record] | None:
        """Return what ``entry`` belongs to, with it taken in, or None where nothing is followed."""
        try:
            for kind in FOLLOWED:
                if type(entry.event).__name__ == kind.first:
                    self._records[entry.subject] = (kind, kind.begin(entry))
                    return self._records[entry.subject]
            followed = self._record(entry.subject)
            if followed is not None:
                followed[1].apply(entry)
        except Refused as refused:
            raise JournalRefused(refused.what, where=refused.where, allowed=refused.allowed) from refused
        return followed

    def _record(self, subject: str) -> tuple[Followed, Record] | None:
        if subject not in self._records:
            first = first_kind_of(self._connection, subject)
            kind = next((kind for kind in FOLLOWED if kind.first == first), None)
            entries = entries_of(self._connection, subject) if kind else []
            self._records[subject] = (kind, kind.replay(entries)) if kind else None
        return self._records[subject]

    def _let_go(self) -> None:
        ended = [s for s, followed in self._records.items() if followed and followed[1].state == "ended"]
        for subject in ended:
            del self._records[subject]
        while len(self._records) > _KEPT:
            del self._records[next(iter(self._records))]


def _is_telling(entry: Entry) -> bool:
    return all(kind.is_telling(entry) for kind in FOLLOWED)


def faults(connection: sqlite3.Connection, leave_out: Collection[str] = ()) -> Iterator[tuple[str, str]]:
    """Yield each subject whose row is not what its events replay to, and what is wrong with it."""
    for kind in FOLLOWED:
        known = set(subjects_of(connection, kind.first))
        check = _CHECKS[kind.table]
        for subject in sorted(known.difference(leave_out)):
            yield from ((subject, what) for what in check(connection, subject))
        table = f"SELECT {kind.table}_id FROM {kind.table} ORDER BY place"  # noqa: S608 - constants
        for (subject,) in connection.execute(table):
            if subject not in known:
                yield subject, f"there is a row without a {kind.table}"


def _faults_of_run(connection: sqlite3.Connection, run_id: str) -> list[str]:
    try:
        row, words = replayed(entries_of(connection, run_id))
    except Refused as refused:
        return [f"it can not be replayed: {refused}"]
    query = f"SELECT words, {', '.join('run.' + name for name in RunRow._fields)} FROM run "  # noqa: S608 - constants
    query += "LEFT JOIN run_words ON run_words.rowid = run.place WHERE run_id = ?"
    found = connection.execute(query, (run_id,)).fetchone()
    if found is None:
        return ["its row is missing"]
    wrong = [] if found[0] == words else ["its words for the search are not those of its events"]
    return differences(RunRow._fields, found[1:], row) + wrong


def _faults_of_print(connection: sqlite3.Connection, print_id: str) -> list[str]:
    return _faults_of_row(connection, "print", print_id, lambda e: row_of_print(PrintRecord.replay(e)))


def _faults_of_bath(connection: sqlite3.Connection, bath_id: str) -> list[str]:
    return _faults_of_row(connection, "bath", bath_id, lambda e: row_of_bath(BathRecord.replay(e)))


def _faults_of_box(connection: sqlite3.Connection, box_id: str) -> list[str]:
    return _faults_of_row(connection, "box", box_id, lambda e: row_of_box(BoxRecord.replay(e)))


def _faults_of_holder(connection: sqlite3.Connection, holder_id: str) -> list[str]:
    return _faults_of_row(connection, "holder", holder_id, lambda e: row_of_holder(HolderRecord.replay(e)))


def _faults_of_plate(connection: sqlite3.Connection, plate_id: str) -> list[str]:
    return _faults_of_row(connection, "plate", plate_id, lambda e: row_of_plate(PlateRecord.replay(e)))


def _faults_of_row(
    connection: sqlite3.Connection, table: Table, subject: str, row_of: Callable[[Sequence[Entry]], NamedRow]
) -> list[str]:
    """Hold the one row of a subject against what its events replay to."""
    try:
        row = row_of(entries_of(connection, subject))
    except Refused as refused:
        return [f"it can not be replayed: {refused}"]
    query = f"SELECT {', '.join(row._fields)} FROM {table} WHERE {table}_id = ?"  # noqa: S608 - constants
    found = connection.execute(query, (subject,)).fetchone()
    return differences(row._fields, found, row) if found else ["its row is missing"]


_CHECKS: dict[Table, Callable[[sqlite3.Connection, str], list[str]]] = {
    "run": _faults_of_run,
    "print": _faults_of_print,
    "bath": _faults_of_bath,
    "box": _faults_of_box,
    "holder": _faults_of_holder,
    "plate": _faults_of_plate,
}
