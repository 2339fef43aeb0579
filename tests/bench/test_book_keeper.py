"""The keeper of the book loses no entry, whatever moment it is closed at and however long the disk takes."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from threading import Event, Thread

import pytest
from msgspec.structs import replace

from firmware_py.bench import book_keeper
from firmware_py.bench.book_keeper import BookKeeper
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.run import Entry, RunWentOn
from tests.journal.making import notes, subject

A = subject(1)


class SlowBook:
    """A book that takes what follows, but not before its gate is open."""

    def __init__(self) -> None:
        self.kept: list[Entry] = []
        self.begun, self.gate = Event(), Event()

    def append(self, entries: Sequence[Entry]) -> None:
        self.begun.set()
        assert self.gate.wait(20)
        if entries[0].number != len(self.kept) + 1:
            raise Refused("does not follow")
        self.kept += entries

    def look_after(self) -> None:
        pass


async def test_entries_behind_a_batch_that_is_being_written_are_kept_at_closing():
    book = SlowBook()
    keeper = BookKeeper(book, at_once=False)
    keeper.give(notes(A, 1, 2))
    await asyncio.to_thread(book.begun.wait, 20)
    keeper.give(notes(A, 3, 4))
    closing = asyncio.create_task(keeper.close())
    await asyncio.sleep(0)
    book.gate.set()
    await closing
    assert book.kept == notes(A, 1, 4)


async def test_a_keeper_that_had_nothing_to_keep_closes():
    await BookKeeper(SlowBook(), at_once=False).close()


async def test_readings_that_are_gathered_are_kept_once_somebody_waits_for_them():
    book = SlowBook()
    book.gate.set()
    keeper = BookKeeper(book, at_once=True)
    readings = [replace(entry, event=RunWentOn()) for entry in notes(A, 1, 3)]
    keeper.give(readings)
    assert book.kept == []
    await asyncio.wait_for(keeper.settled(), 5)
    assert book.kept == readings


class Starved:
    """Stands in for a system at its limit of threads: so many starts fail, in the words of the library."""

    def __init__(self, monkeypatch, times: int) -> None:
        self.left = times
        start = Thread.start

        def refused(thread: Thread) -> None:
            if self.left > 0 and thread.name.startswith("book"):
                self.left -= 1
                raise RuntimeError("can't start new thread")
            start(thread)

        monkeypatch.setattr(Thread, "start", refused)


async def test_a_writer_that_cannot_start_is_told_tried_again_and_writes_each_entry_once(monkeypatch):
    monkeypatch.setattr(book_keeper, "RETRY_S", 0.0)
    book = SlowBook()
    told: list[str] = []
    book.gate.set()
    Starved(monkeypatch, 3)
    well = asyncio.Event()
    keeper = BookKeeper(book, at_once=False, trouble=told.append, well=well.set)
    keeper.give(notes(A, 1, 2))
    with pytest.raises(Refused, match="can't start new thread"):
        await asyncio.wait_for(keeper.settled(), 20)
    await asyncio.wait_for(well.wait(), 20)
    assert book.kept == notes(A, 1, 2)
    assert told == ["journal: no thread to write with (can't start new thread)"]
    keeper.give(notes(A, 3, 4))
    await keeper.settled()
    await keeper.close()
    assert book.kept == notes(A, 1, 4)


async def test_at_the_end_no_thread_is_needed(monkeypatch):
    book = SlowBook()
    book.gate.set()
    Starved(monkeypatch, 10**6)
    keeper = BookKeeper(book, at_once=False)
    keeper.give(notes(A, 1, 2))
    await keeper.close()
    assert book.kept == notes(A, 1, 2)


async def test_whatever_the_book_fails_with_the_keeper_goes_on(monkeypatch):
    monkeypatch.setattr(book_keeper, "RETRY_S", 0.0)

    class Broken(SlowBook):
        failures = 2

        def append(self, entries: Sequence[Entry]) -> None:
            if self.failures:
                self.failures -= 1
                raise MemoryError("none left")
            super().append(entries)

    book = Broken()
    told: list[str] = []
    book.gate.set()
    well = asyncio.Event()
    keeper = BookKeeper(book, at_once=False, trouble=told.append, well=well.set)
    keeper.give(notes(A, 1, 2))
    await asyncio.wait_for(well.wait(), 20)
    assert told == ["journal: MemoryError: none left"]
    await keeper.close()
    assert book.kept == notes(A, 1, 2)
