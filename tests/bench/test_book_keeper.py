"""The keeper of the book loses no entry, whatever moment it is closed at and however long the disk takes."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from threading import Event

from msgspec.structs import replace

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
