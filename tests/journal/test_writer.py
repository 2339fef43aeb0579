"""The writer's thread keeps order, tells who was refused, and never makes its caller wait."""

from __future__ import annotations

import asyncio
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal
from firmware_py.journal.writer import JournalWriter
from tests.journal.making import entry, notes, subject

A, B = subject(1), subject(2)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with Journal.open(tmp_path / "journal.db") as journal:
        yield journal


@pytest.fixture
def busy_disk(journal: Journal) -> Iterator[sqlite3.Connection]:
    """A stranger who holds the file, so that no commit can end until it rolls back."""
    journal._connection.execute("PRAGMA busy_timeout = 30000")
    stranger = sqlite3.connect(journal.path, isolation_level=None)
    stranger.execute("BEGIN IMMEDIATE")
    yield stranger
    stranger.close()


def test_appends_are_kept_in_the_order_they_were_asked_for(journal):
    with JournalWriter(journal) as writer:
        kept = [writer.append(notes(A, n, n)) for n in range(1, 201)]
        kept += [writer.append(notes(B, 1, 3))]
        assert [future.result(timeout=20) for future in kept] == [None] * 201
    assert journal.read(A) == notes(A, 1, 200)
    assert journal.read(B) == notes(B, 1, 3)


def test_the_caller_never_waits_for_the_disk_and_what_waits_is_committed_together(journal, busy_disk):
    with JournalWriter(journal) as writer:
        kept = [writer.append(notes(A, n, n)) for n in range(1, 51)]
        assert not any(future.done() for future in kept)
        busy_disk.execute("ROLLBACK")
        for future in kept:
            future.result(timeout=20)
    assert journal.read(A) == notes(A, 1, 50)
    assert journal._appends <= 3


def test_only_the_refused_append_fails_and_the_number_may_be_used_again(journal, busy_disk):
    with JournalWriter(journal) as writer:
        first = writer.append(notes(A, 1, 2))
        wrong = writer.append([*notes(B, 1, 1), entry(A, 7, notes(A, 7, 7)[0].event)])
        after = writer.append(notes(A, 3, 3))
        other = writer.append(notes(B, 1, 1))
        busy_disk.execute("ROLLBACK")
        with pytest.raises(JournalRefused, match="number 7 does not follow number 2"):
            wrong.result(timeout=20)
        assert (first.result(20), after.result(20), other.result(20)) == (None, None, None)
    assert journal.read(A) == notes(A, 1, 3)
    assert journal.read(B) == notes(B, 1, 1)


def test_what_follows_a_lost_number_is_refused_until_the_number_is_used_again(journal):
    with JournalWriter(journal) as writer:
        writer.append(notes(A, 1, 1)).result(20)
        lost = [writer.append(notes(A, n, n)) for n in (3, 4)]
        for future in lost:
            with pytest.raises(JournalRefused, match="allowed: number 2"):
                future.result(20)
        again = [writer.append(notes(A, n, n)) for n in (2, 3)]
        assert [future.result(20) for future in again] == [None, None]


def test_closing_writes_all_that_waits_and_then_refuses(journal, busy_disk):
    writer = JournalWriter(journal)
    kept = [writer.append(notes(A, n, n)) for n in range(1, 151)]
    busy_disk.execute("ROLLBACK")
    writer.close()
    assert all(future.done() for future in kept)
    assert journal.last_number(A) == 150
    with pytest.raises(JournalRefused, match="closed"):
        writer.append(notes(A, 151, 151)).result(20)
    writer.close()


def test_an_append_can_not_be_called_off(journal, busy_disk):
    with JournalWriter(journal) as writer:
        kept = writer.append(notes(A, 1, 1))
        assert not kept.cancel()
        busy_disk.execute("ROLLBACK")
        assert kept.result(20) is None


async def test_an_event_loop_can_wait_for_a_commit(journal):
    with JournalWriter(journal) as writer:
        await asyncio.wrap_future(writer.append(notes(A, 1, 4)))
        with pytest.raises(JournalRefused):
            await asyncio.wrap_future(writer.append(notes(A, 4, 4)))
        assert journal.last_number(A) == 4


def test_an_error_nobody_foresaw_is_told_to_the_caller_and_the_thread_lives(journal):
    with JournalWriter(journal) as writer:
        with pytest.raises(AttributeError):
            writer.append([None]).result(20)  # type: ignore[list-item]
        assert writer.append(notes(A, 1, 1)).result(20) is None
