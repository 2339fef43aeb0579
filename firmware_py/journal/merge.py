"""Brings the events of another book into this one, each chain whole and only once."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from firmware_py.craft.refusal import Refused, plain
from firmware_py.journal.connect import open_for_reading
from firmware_py.journal.followed import FOLLOWED
from firmware_py.journal.lines import read
from firmware_py.journal.migrations import schema_of
from firmware_py.journal.reading import refusing, rows_of, subjects_of
from firmware_py.journal.refused import TROUBLES, JournalRefused
from firmware_py.journal.rows import Row, proven
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from firmware_py.strict_toml import open_plain_file

Chain = Sequence[Row]  # all events of one subject, in order


class Merged(NamedTuple):
    """How many subjects got something new, how many events that was, and what was left out as damaged."""

    subjects: int
    events: int
    left_out: tuple[str, ...] = ()


def merge_journal(journal: Journal, other: Path, *, leave_out: bool = False) -> Merged:
    """Take in what the journal at ``other`` has and this one has not; again, it changes nothing.

    A subject that went another way in the other book (same number, other event) is refused by its name,
    and nothing at all is taken. So is a book that is not whole; with ``leave_out`` each subject of it that is
    whole is taken, and the others are named. Raises `JournalRefused`.
    """
    if not leave_out:
        _require_whole(other)
    connection = open_for_reading(other)
    try:
        with refusing(other):
            if schema_of(connection, other) == 0:
                raise JournalRefused("it is empty", where=str(other), allowed="a journal with events")
            connection.execute("BEGIN")
            if leave_out:
                return _merge_whole_ones(journal, connection, str(other))
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


def _merge_whole_ones(journal: Journal, connection: sqlite3.Connection, source: str) -> Merged:
    """Take in the subjects that are whole, and name the others."""
    subjects = events = 0
    left_out = []
    for subject in subjects_of(connection):
        try:
            chain = list(rows_of(connection, subject))
            one = _merge(journal, lambda chain=chain: [chain], source)  # type: ignore[misc]
        except (*TROUBLES, JournalRefused) as error:
            left_out.append(f"{plain(subject)}: {plain(' '.join(str(error).split()))}")
            continue
        subjects, events = subjects + one.subjects, events + one.events
    return Merged(subjects, events, tuple(left_out))


def _require_whole(other: Path) -> None:
    """Refuse a damaged book: one event that is lost would be lost with no word."""
    try:
        faults = verify(other).faults
    except JournalRefused as refused:
        if refused.damaged:
            raise
        return  # of an older schema, which only its own program can verify: each chain is proved anyway
    if faults:
        what = f"it is not whole: {faults[0].where}: {faults[0].what}; {len(faults)} faults in all"
        raise JournalRefused(what, where=str(other), allowed="`--leave-out` takes in what is whole of it")


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
        opened = open_plain_file(file)
    except Refused as refused:
        raise JournalRefused(refused.what, where=refused.where) from refused
    try:
        with opened as lines:
            for _, chain in groupby(read(lines, str(file)), key=lambda row: row.subject):
                yield list(chain)
    except OSError as error:
        raise JournalRefused(f"it can not be read: {error.strerror}", where=str(file)) from error
