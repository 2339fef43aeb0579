"""Holds a journal file against itself: its pages, its chain of hashes, its numbers, its runs."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from firmware_py.journal.migrations import STANDING
from firmware_py.journal.newest import missing_in
from firmware_py.journal.projections import faults as projection_faults
from firmware_py.journal.reading import JournalReader, refusing
from firmware_py.journal.refused import ODD_VALUES, TROUBLES, JournalRefused, refusal_of
from firmware_py.journal.rows import COLUMNS, START_OF_CHAIN, Row, column_faults, entry_of, link, wrong_types

_ALL = f"SELECT seq, {COLUMNS} FROM event NOT INDEXED ORDER BY seq"  # noqa: S608 - constants


class Fault(NamedTuple):
    """Something wrong: where in the book, and what."""

    where: str
    what: str


@dataclass(slots=True)
class Findings:
    """What a check of a whole journal found."""

    events: int = 0
    subjects: int = 0
    runs: int = 0
    faults: list[Fault] = field(default_factory=list)


def verify(path: Path) -> Findings:
    """Check the journal at ``path``, every event of it, also while the controller writes it.

    One flipped bit in any column of any event is found. Raises `JournalRefused` only where there is no
    journal that could be looked into.
    """
    with JournalReader.open(path) as reader, refusing(path):
        reader.connection.text_factory = as_it_lies
        reader.connection.execute("BEGIN")  # one moment of the book, whatever is appended meanwhile
        return _Check(reader.connection, path).findings()


def as_it_lies(raw: bytes) -> str:
    """Return text from the file, also where it is not text any more."""
    return raw.decode(errors="surrogateescape")


class _Check:
    def __init__(self, connection: sqlite3.Connection, path: Path) -> None:
        self._connection = connection
        self._path = path
        self._tails: dict[str, tuple[int, bytes]] = {}
        self._bad_subjects: set[str] = set()
        self._found = Findings()

    def findings(self) -> Findings:
        for check in (self._pages, self._standing, self._events, self._newest, self._projections):
            try:
                self._found.faults += check()
            except (*TROUBLES, *ODD_VALUES) as error:
                refusal = refusal_of(error, self._path)
                self._found.faults.append(Fault(str(self._path), f"{refusal.what} ({error})"))
        self._found.subjects = len(self._tails)
        return self._found

    def _pages(self) -> Iterator[Fault]:
        for (words,) in self._connection.execute("PRAGMA integrity_check"):
            if words != "ok":
                yield Fault(str(self._path), " ".join(str(words).split()))

    def _standing(self) -> Iterator[Fault]:
        found = {str(name) for (name,) in self._connection.execute("SELECT name FROM sqlite_schema")}
        for name in sorted(STANDING - found):
            yield Fault(str(self._path), f"{name} is missing from the file")

    def _events(self) -> Iterator[Fault]:
        last = 0
        for seq, *columns in self._connection.execute(_ALL):
            self._found.events += 1
            if seq != last + 1:
                yield Fault(f"row {seq}", f"it follows row {last}")
            last = seq
            yield from self._event(seq, Row._make(columns))

    def _event(self, seq: int, row: Row) -> Iterator[Fault]:
        wrong = wrong_types(row)
        if wrong:
            self._bad_subjects.add(str(row.subject))
            yield Fault(f"row {seq}", f"not the kind of value that belongs there: {', '.join(wrong)}")
            return
        number, previous = self._tails.get(row.subject, (0, START_OF_CHAIN))
        self._tails[row.subject] = (row.number, row.hash)
        self._found.runs += row.kind == "RunOpened"
        for what in _faults_of(row, number, previous):
            self._bad_subjects.add(row.subject)
            yield Fault(_printable(row.place), _printable(what))

    def _newest(self) -> Iterator[Fault]:
        missing = missing_in(self._connection, self._path)
        if missing:
            yield Fault(str(self._path), missing)

    def _projections(self) -> Iterator[Fault]:
        for kind, subject, what in projection_faults(self._connection, leave_out=self._bad_subjects):
            yield Fault(f"{kind} {_printable(subject)}", what)


def _faults_of(row: Row, number: int, previous: bytes) -> Iterator[str]:
    if row.number != number + 1:
        yield f"it follows number {number}"
    if row.hash != link(previous, row):
        yield "its hash does not follow from what it holds and from the event before"
    yield from column_faults(row)
    try:
        entry_of(row)
    except JournalRefused as refused:
        yield refused.what


def _printable(words: str) -> str:
    return "".join(sign if sign.isprintable() else "?" for sign in words)
