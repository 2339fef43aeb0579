"""The tables that follow from the events: kept in step in the same transaction, made anew at any time."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from typing import NamedTuple

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.run import Entry
from firmware_py.journal.followed import FOLLOWED, Followed, Record
from firmware_py.journal.places import Table
from firmware_py.journal.reading import entries_of, first_kind_of, subjects_of
from firmware_py.journal.refused import JournalRefused

_KEPT = 64  # runs, prints, plates and sessions kept at hand between two appends


class RowFault(NamedTuple):
    """A row that is not what its events replay to: of which kind of subject, of which one, and what."""

    kind: Table
    subject: str
    what: str


class Rebuilt(NamedTuple):
    """How many rows were made anew, and which subjects got none since they cannot be replayed."""

    rows: int
    left_out: list[RowFault]


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
                with _as_refusals():
                    kind.put(self._connection, record)
        self._let_go()

    def forget(self) -> None:
        """Drop what is kept at hand; the next append reads it anew from the events."""
        self._records.clear()

    def bring_up_to_date(self) -> None:
        """Make the tables anew if they come from a program that made them otherwise."""
        found = dict(self._connection.execute("SELECT name, version FROM projection").fetchall())
        if found != {kind.table: kind.version for kind in FOLLOWED}:
            self.rebuild(leave_out=True)

    def rebuild(self, *, leave_out: bool = False) -> Rebuilt:
        """Make all tables anew from the events, in one transaction.

        A subject that cannot be replayed is refused by its name; with ``leave_out`` it gets no row, so that
        nothing shows it any more, and its events stay. Raises `JournalRefused`.
        """
        self.forget()
        self._connection.execute("BEGIN IMMEDIATE")
        try:
            broken: list[RowFault] = []
            rows = sum(self._refill(kind, broken) for kind in FOLLOWED)
            if not leave_out:
                _require_none(broken)
            self._connection.execute("COMMIT")
        except BaseException:
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")
            raise
        return Rebuilt(rows, broken)

    def _refill(self, kind: Followed, broken: list[RowFault]) -> int:
        """Make the rows of a kind anew and return how many; what cannot be is added to ``broken``."""
        for table in kind.tables:
            self._connection.execute(f"DELETE FROM {table}")  # noqa: S608 - constants
        rows = 0
        for subject in subjects_of(self._connection, kind.first):
            try:
                with _as_refusals():
                    kind.refill(self._connection, entries_of(self._connection, subject))
                rows += 1
            except Refused as refused:
                broken.append(RowFault(kind.table, subject, f"it can not be replayed: {refused}"))
        version = (kind.table, kind.version)
        self._connection.execute("INSERT OR REPLACE INTO projection VALUES (?, ?)", version)
        return rows

    def _applied(self, entry: Entry) -> tuple[Followed, Record] | None:
        """Return what ``entry`` belongs to, with it taken in, or None where nothing is followed."""
        with _as_refusals():
            for kind in FOLLOWED:
                if type(entry.event).__name__ == kind.first:
                    self._records[entry.subject] = (kind, kind.begin(entry))
                    return self._records[entry.subject]
            followed = self._record(entry.subject)
            if followed is not None:
                followed[1].apply(entry)
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


@contextmanager
def _as_refusals() -> Iterator[None]:
    """Have the journal refuse what a fold refuses, or cannot calculate."""
    try:
        yield
    except Refused as refused:
        raise JournalRefused(refused.what, where=refused.where, allowed=refused.allowed) from refused
    except ArithmeticError as error:
        raise JournalRefused(f"it can not be calculated: {error}") from error


def _require_none(broken: Sequence[RowFault]) -> None:
    if not broken:
        return
    first = broken[0]
    more = f", and {len(broken) - 1} more" if len(broken) > 1 else ""
    raise JournalRefused(
        f"{first.what}{more}", where=f"{first.kind} {first.subject}", allowed="`--leave-out` lists the others"
    )


def faults(connection: sqlite3.Connection, leave_out: Collection[str] = ()) -> Iterator[RowFault]:
    """Yield what is wrong with the rows, held against the events that they follow from."""
    for kind in FOLLOWED:
        known = set(subjects_of(connection, kind.first))
        for subject in sorted(known.difference(leave_out)):
            yield from (RowFault(kind.table, subject, what) for what in _faults_of(kind, connection, subject))
        table = f"SELECT {kind.table}_id FROM {kind.table} ORDER BY place"  # noqa: S608 - constants
        for (subject,) in connection.execute(table):
            if subject not in known:
                yield RowFault(kind.table, subject, f"there is a row without a {kind.table}")


def _faults_of(kind: Followed, connection: sqlite3.Connection, subject: str) -> list[str]:
    try:
        with _as_refusals():
            return kind.faults(connection, entries_of(connection, subject))
    except Refused as refused:
        return [f"it can not be replayed: {refused}"]
