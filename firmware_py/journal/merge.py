"""Brings the events of another book into this one, each chain whole and only once."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from firmware_py.craft.refusal import Refused
from firmware_py.journal.connect import open_for_reading
from firmware_py.journal.followed import FOLLOWED
from firmware_py.journal.lines import read
from firmware_py.journal.migrations import schema_of
from firmware_py.journal.reading import refusing, rows_of, subjects_of
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.rows import Row, proven
from firmware_py.journal.store import Journal

Chain = Sequence[Row]  # all events of one subject, in order


class Merged(NamedTuple):
    """How many subjects got something new, and how many events that was."""

    subjects: int
    events: int


def merge_journal(journal: Journal, other: Path) -> Merged:
    """Take in what the journal at ``other`` has and this one has not; again, it changes nothing.

    A subject that went another way in the other book (same number, other event) is refused by its name,
    and nothing at all is taken. Raises `JournalRefused`.
    """
    connection = open_for_reading(other)
    try:
        with refusing(other):
            if schema_of(connection, other) == 0:
                raise JournalRefused("it is empty", where=str(other), allowed="a journal with events")
            connection.execute("BEGIN")
            return _merge(journal, lambda: _chains_of(connection), str(other))
    finally:
        connection.close()


def import_lines(journal: Journal, file: Path) -> Merged:
    """Take in an export, in the same way and with the same refusals as `merge_journal`."""
    return _merge(journal, lambda: _chains_in(file), str(file))


def _merge(journal: Journal, chains: Callable[[], Iterable[Chain]], source: str) -> Merged:
    for chain in chains():
        _require_sound(chain, source)
        _require_same_beginning(journal, chain, source)
    subjects = events = 0
    for chain in chains():
        new = chain[journal.last_number(chain[0].subject) :]
        if new:
            journal.take(new)
            subjects, events = subjects + 1, events + len(new)
    return Merged(subjects, events)


def _require_sound(chain: Chain, source: str) -> None:
    try:
        entries = proven(chain)
        for kind in FOLLOWED:
            if any(row.kind == kind.first for row in chain):
                kind.replay(entries)
    except Refused as refused:
        raise JournalRefused(
            refused.what, where=f"{source}: {refused.where}", allowed=refused.allowed
        ) from refused


def _require_same_beginning(journal: Journal, chain: Chain, source: str) -> None:
    subject = chain[0].subject
    shared = min(len(chain), journal.last_number(subject))
    if shared and chain[shared - 1].hash != journal.hash_at(subject, shared):
        first = next(n for n in range(1, shared + 1) if chain[n - 1].hash != journal.hash_at(subject, n))
        what = f"event {first} of {subject} is another one than in this journal"
        raise JournalRefused(what, where=source, allowed="books of which one goes on where the other ends")


def _chains_of(connection: sqlite3.Connection) -> Iterator[Chain]:
    for subject in subjects_of(connection):
        yield list(rows_of(connection, subject))


def _chains_in(file: Path) -> Iterator[Chain]:
    try:
        with file.open("rb") as lines:
            for _, chain in groupby(read(lines, str(file)), key=lambda row: row.subject):
                yield list(chain)
    except OSError as error:
        raise JournalRefused(f"it can not be read: {error.strerror}", where=str(file)) from error
