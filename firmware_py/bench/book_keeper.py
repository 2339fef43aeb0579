"""Brings the bench's entries into the journal without ever holding up a timer, and loses none on the way."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from functools import partial
from typing import Protocol

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.run import Entry, RunWentOn, TemperatureRead

RETRY_S = 1.0
# A book that was deleted is noticed within a second; what is written beside it waits for a pause.
LOOK_AFTER_S = 0.4
# A rehearsal at speed need not flush every simulated second by itself.
GATHER = 60


class Book(Protocol):
    """Where entries are kept: `append` returns when they are on the disk, or raises Refused."""

    def append(self, entries: Sequence[Entry]) -> None:
        """Append entries in one transaction."""
        ...

    def look_after(self) -> None:
        """Do what may wait until nothing is written. Raises Refused where the book is not there any more."""
        ...


class BookKeeper:
    """Keeps entries in order until the book has them.

    ``at_once`` writes on the caller's thread (a simulated clock waits for nobody); otherwise a thread of
    its own writes whatever has gathered, one transaction after another. While the book refuses, entries
    wait and are tried again; ``trouble`` is told once, ``well`` when it is over.
    """

    def __init__(
        self,
        book: Book,
        *,
        at_once: bool,
        trouble: Callable[[str], None] = lambda _: None,
        well: Callable[[], None] = lambda: None,
    ) -> None:
        self._book = book
        self._at_once = at_once
        self._trouble = trouble
        self._well = well
        self._waiting: list[Entry] = []
        self._given = 0
        self._kept = 0
        self._why = ""
        self._closing = False
        self._work = asyncio.Event()
        self._progress = asyncio.Condition()
        self._thread = ThreadPoolExecutor(1, "book")
        self._task: asyncio.Task[None] | None = None

    @property
    def why(self) -> str:
        """Get why the book refuses, or nothing when it does not."""
        return self._why

    @property
    def is_settled(self) -> bool:
        """Get whether everything given so far is on the disk."""
        return self._kept >= self._given

    def give(self, entries: Sequence[Entry]) -> None:
        """Take entries on, to be kept in this order."""
        if not entries:
            return
        self._waiting.extend(entries)
        self._given += len(entries)
        if self._at_once:
            plain = all(isinstance(entry.event, TemperatureRead | RunWentOn) for entry in self._waiting)
            if not plain or len(self._waiting) >= GATHER:
                self._write_now()
        else:
            self._work.set()
            if self._task is None:
                self._task = asyncio.get_running_loop().create_task(self._keep_on())

    async def settled(self) -> None:
        """Return when everything given so far is on the disk.

        Raises Refused when the book does not take it: it stays waiting and is tried again.
        """
        wanted = self._given
        if self._at_once:
            self._write_now()
        async with self._progress:
            await self._progress.wait_for(lambda: self._kept >= wanted or bool(self._why))
        if self._kept < wanted:
            raise Refused(f"is done, but not yet in the book: {self._why}", where="journal")

    async def close(self) -> None:
        """Write what still waits, as far as the book takes it, and let the thread go."""
        if self._task is not None:
            # Not cancelled: a batch that the thread still writes must be counted, or it would be tried twice,
            # refused the second time, and what waits behind it lost.
            self._closing = True
            self._work.set()
            await self._task
        with suppress(Refused):
            self._append(
                self._waiting
            )  # on this thread: at the end nothing is held up, and none may be to be had
            self._waiting.clear()
        self._thread.shutdown()

    def _write_now(self) -> None:
        try:
            self._append(self._waiting)
        except Refused as refusal:
            self._refused(refusal)
            return
        self._took(len(self._waiting))

    def _append(self, entries: Sequence[Entry]) -> None:
        if entries:
            self._book.append(entries)

    async def _keep_on(self) -> None:
        while not self._closing:
            await self._work_or_rest()
            self._work.clear()
            batch = list(self._waiting)
            try:
                if not batch:
                    await self._on_thread(self._book.look_after)
                    continue
                await self._on_thread(partial(self._append, batch))
            except Refused as refusal:
                self._refused(refusal)
                await self._tell()
                asyncio.get_running_loop().call_later(RETRY_S, self._work.set)
                continue
            self._took(len(batch))
            await self._tell()

    async def _on_thread(self, what: Callable[[], None]) -> None:
        """Do it on the keeper's thread. Whatever goes wrong is a refusal: the keeper never ends of it."""
        try:
            doing = self._thread.submit(what)
        except RuntimeError as error:
            # The executor has queued it all the same: the next thread would write it, and then once more.
            self._thread.shutdown(wait=False, cancel_futures=True)
            self._thread = ThreadPoolExecutor(1, "book")
            raise Refused(f"no thread to write with ({error})", where="journal") from error
        try:
            await asyncio.wrap_future(doing)
        except Refused:
            raise
        except Exception as error:
            raise Refused(f"{type(error).__name__}: {error}", where="journal") from error

    async def _work_or_rest(self) -> None:
        """Wait until there is something to write, or the book wants to be looked after."""
        with suppress(TimeoutError):
            await asyncio.wait_for(self._work.wait(), LOOK_AFTER_S)

    def _took(self, count: int) -> None:
        del self._waiting[:count]
        self._kept += count
        if self._why:
            self._why = ""
            self._well()
        if self._waiting:
            self._work.set()

    def _refused(self, refusal: Refused) -> None:
        was_well = not self._why
        self._why = refusal.line
        if was_well:
            self._trouble(refusal.line)

    async def _tell(self) -> None:
        async with self._progress:
            self._progress.notify_all()
