"""What can be asked of a journal file, by its writer or by a reader beside it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Self

from firmware_py.facts.events.run import Entry
from firmware_py.journal.connect import open_for_reading
from firmware_py.journal.migrations import SCHEMA, schema_of
from firmware_py.journal.refused import TROUBLES, JournalRefused, refusal_of
from firmware_py.journal.rows import COLUMNS, Row, entry_of


def rows_of(connection: sqlite3.Connection, subject: str, after: int = 0) -> Iterator[Row]:
    """Yield the rows of ``subject`` with a number above ``after``, in order."""
    query = f"SELECT {COLUMNS} FROM event WHERE subject = ? AND number > ? ORDER BY number"  # noqa: S608 - constants
    yield from map(Row._make, connection.execute(query, (subject, after)))


def entries_of(connection: sqlite3.Connection, subject: str, after: int = 0) -> list[Entry]:
    """Return the entries of ``subject`` with a number above ``after``, in order; none for an unknown one."""
    return [entry_of(row) for row in rows_of(connection, subject, after)]


def first_kind_of(connection: sqlite3.Connection, subject: str) -> str | None:
    """Return the name of the first event of ``subject``, None for an unknown one."""
    found = connection.execute(
        "SELECT kind FROM event WHERE subject = ? AND number = 1", (subject,)
    ).fetchone()
    return str(found[0]) if found else None


def subjects_of(connection: sqlite3.Connection, first: str | None = None) -> list[str]:
    """Return the subjects whose first event is a ``first``, or all of them, oldest id first."""
    query = "SELECT subject FROM event WHERE number = 1"
    if first is not None:
        query += " AND kind = ?"
    found = connection.execute(query + " ORDER BY subject", () if first is None else (first,))
    return [str(subject) for (subject,) in found]


class JournalReader:
    """A journal opened only to be read, also while the controller writes it."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path = path
        self.connection = connection

    @classmethod
    def open(cls, path: Path) -> Self:
        """Open the journal at ``path``; refuse what is none, or one of another schema."""
        connection = open_for_reading(path)
        try:
            with refusing(path):
                _require_present_schema(connection, path)
        except JournalRefused:
            connection.close()
            raise
        return cls(path, connection)

    def read(self, subject: str, after: int = 0) -> list[Entry]:
        """Return the entries of ``subject`` numbered above ``after``; none for an unknown one."""
        with refusing(self.path):
            return entries_of(self.connection, subject, after)

    def subjects(self, first: str | None = None) -> list[str]:
        """Return the subjects that begin with a ``first`` (an event's name), or all, oldest id first."""
        with refusing(self.path):
            return subjects_of(self.connection, first)

    def close(self) -> None:
        """Let the file go."""
        self.connection.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


@contextmanager
def refusing(path: Path) -> Iterator[None]:
    """Turn an error of SQLite on the journal at ``path`` into a refusal."""
    try:
        yield
    except TROUBLES as error:
        raise refusal_of(error, path) from error


def _require_present_schema(connection: sqlite3.Connection, path: Path) -> None:
    found = schema_of(connection, path)
    if found != SCHEMA:
        what = f"it has the older journal schema {found}" if found else "it is empty"
        raise JournalRefused(
            what, where=str(path), allowed=f"schema {SCHEMA}; opening it for writing brings it there"
        )
