"""The journal kept by a thread of its own, so that nobody who writes into it waits for the disk."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future
from queue import Empty, SimpleQueue
from threading import Lock, Thread
from types import TracebackType
from typing import NamedTuple, Self

from firmware_py.journal.events import Entry
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal

_AT_ONCE = 64  # appends put into one transaction while others wait


class _Wish(NamedTuple):
    entries: tuple[Entry, ...]
    kept: Future[None]


class JournalWriter:
    """A queue into a `Journal`: appends are kept in the order in which they were asked for.

    What waits is committed together. An append that is refused fails its own future only; as numbers have
    no gap, later appends to the same subject are then refused too, until its number is used again.
    """

    def __init__(self, journal: Journal) -> None:
        self.journal = journal
        self._wishes: SimpleQueue[_Wish | None] = SimpleQueue()
        self._door = Lock()
        self._closed = False
        self._thread = Thread(target=self._work, name="journal", daemon=True)
        self._thread.start()

    def append(self, entries: Sequence[Entry]) -> Future[None]:
        """Return at once a future that is done when ``entries`` are safe on the disk.

        It fails with `JournalRefused` where none of them was written. It can not be cancelled.
        """
        kept: Future[None] = Future()
        kept.set_running_or_notify_cancel()
        with self._door:
            if not self._closed:
                self._wishes.put(_Wish(tuple(entries), kept))
                return kept
        kept.set_exception(JournalRefused("the journal is closed", where=str(self.journal.path)))
        return kept

    def close(self) -> None:
        """Write all that waits, then end the thread; the journal itself stays open for its owner to close."""
        with self._door:
            if not self._closed:
                self._closed = True
                self._wishes.put(None)
        self._thread.join()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _work(self) -> None:
        while (first := self._wishes.get()) is not None:
            wishes, last = self._waiting_behind(first)
            self._keep_together(wishes)
            if last:
                return

    def _waiting_behind(self, first: _Wish) -> tuple[list[_Wish], bool]:
        """Return what waits, and whether the end was met."""
        wishes = [first]
        while len(wishes) < _AT_ONCE:
            try:
                wish = self._wishes.get_nowait()
            except Empty:
                break
            if wish is None:
                return wishes, True
            wishes.append(wish)
        return wishes, False

    def _keep_together(self, wishes: Sequence[_Wish]) -> None:
        """Keep all in one transaction; if that is refused, each in its own: only the bad ones fail."""
        if len(wishes) == 1:
            self._keep(wishes[0])
            return
        try:
            self.journal.append([entry for wish in wishes for entry in wish.entries])
        except Exception:  # noqa: BLE001 - whatever it was, each wish meets it again alone and carries it
            for wish in wishes:
                self._keep(wish)
            return
        for wish in wishes:
            wish.kept.set_result(None)

    def _keep(self, wish: _Wish) -> None:
        try:
            self.journal.append(wish.entries)
        except Exception as error:  # noqa: BLE001 - the caller meets it in the future; this thread must live
            wish.kept.set_exception(error)
        else:
            wish.kept.set_result(None)
