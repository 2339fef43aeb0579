"""The tables that follow from the events: kept in step in the same transaction, made anew at any time."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterator, Sequence

from firmware_py.craft.refusal import Refused
from firmware_py.journal.events import Entry, RunOpened
from firmware_py.journal.reading import entries_of, first_kind_of, subjects_of
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.run_rows import (
    RunRow,
    differences,
    is_telling,
    put,
    replayed,
    row_of_run,
    words_of_run,
)

VERSION = 1  # raise it whenever a row would come out otherwise from the same events
_RUNS_KEPT = 64  # runs and sessions kept at hand between two appends


class Projections:
    """The follower of one writing connection. After a failed transaction call `forget`."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self._records: dict[str, RunRecord | None] = {}

    def follow(self, entries: Sequence[Entry]) -> None:
        """Bring the tables in step with ``entries``, which are about to be written in this transaction.

        Raises `JournalRefused` for an entry that can not happen to its run as it stands.
        """
        last_telling = {entry.subject: entry.number for entry in entries if is_telling(entry)}
        for entry in entries:
            record = self._applied(entry)
            if record is not None and last_telling.get(entry.subject) == entry.number:
                put(self._connection, row_of_run(record), words_of_run(record))
        self._let_go()

    def forget(self) -> None:
        """Drop what is kept at hand; the next append reads it anew from the events."""
        self._records.clear()

    def bring_up_to_date(self) -> None:
        """Make the tables anew if they come from a program that made them otherwise."""
        found = self._connection.execute("SELECT version FROM projection WHERE name = 'run'").fetchone()
        if found is None or found[0] != VERSION:
            self.rebuild()

    def rebuild(self) -> int:
        """Make all tables anew from the events, in one transaction; return the number of runs."""
        self.forget()
        self._connection.execute("BEGIN IMMEDIATE")
        try:
            runs = self._refill()
            self._connection.execute("INSERT OR REPLACE INTO projection VALUES ('run', ?)", (VERSION,))
            self._connection.execute("COMMIT")
        except BaseException:
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")
            raise
        return runs

    def _refill(self) -> int:
        self._connection.execute("DELETE FROM run")
        self._connection.execute("DELETE FROM run_words")
        runs = subjects_of(self._connection, "RunOpened")
        for run_id in runs:
            put(self._connection, *replayed(entries_of(self._connection, run_id)))
        return len(runs)

    def _applied(self, entry: Entry) -> RunRecord | None:
        """Return the run with ``entry`` taken in, or None where it belongs to no run."""
        try:
            if isinstance(entry.event, RunOpened):
                self._records[entry.subject] = RunRecord.begin(entry)
                return self._records[entry.subject]
            record = self._record(entry.subject)
            if record is not None:
                record.apply(entry)
        except Refused as refused:
            raise JournalRefused(refused.what, where=refused.where, allowed=refused.allowed) from refused
        return record

    def _record(self, subject: str) -> RunRecord | None:
        if subject not in self._records:
            is_run = first_kind_of(self._connection, subject) == "RunOpened"
            self._records[subject] = (
                RunRecord.replay(entries_of(self._connection, subject)) if is_run else None
            )
        return self._records[subject]

    def _let_go(self) -> None:
        ended = [s for s, record in self._records.items() if record is not None and record.state == "ended"]
        for subject in ended:
            del self._records[subject]
        while len(self._records) > _RUNS_KEPT:
            del self._records[next(iter(self._records))]


def faults(connection: sqlite3.Connection, leave_out: Collection[str] = ()) -> Iterator[tuple[str, str]]:
    """Yield each run whose row is not what its events replay to, and what is wrong with it."""
    known = set(subjects_of(connection, "RunOpened"))
    for run_id in sorted(known.difference(leave_out)):
        yield from ((run_id, what) for what in _faults_of_run(connection, run_id))
    for (run_id,) in connection.execute("SELECT run_id FROM run ORDER BY place"):
        if run_id not in known:
            yield run_id, "there is a row without a run"


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
    kept = RunRow._make(found[1:])
    wrong = [] if found[0] == words else ["its words for the search are not those of its events"]
    return differences(kept, row) + wrong
