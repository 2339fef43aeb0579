"""The journal itself: one append-only table of events in one file, with one writer."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from threading import RLock
from types import TracebackType
from typing import Self, TypeVar

from firmware_py.facts.events.run import Entry
from firmware_py.journal.ballast import Ballast
from firmware_py.journal.bath_rows import BathRow, open_baths
from firmware_py.journal.connect import fold_back, make_folder, open_for_writing
from firmware_py.journal.in_place import InPlace, save_beside
from firmware_py.journal.lock import WriterLock
from firmware_py.journal.migrations import migrate
from firmware_py.journal.newest import Newest, missing_in, newest_in, write_witness
from firmware_py.journal.print_rows import PrintRow, newest_programs, open_prints
from firmware_py.journal.projections import Projections, Rebuilt
from firmware_py.journal.reading import entries_of, refusing, rows_of, subjects_of
from firmware_py.journal.refused import TROUBLES, JournalRefused, is_no_room, refusal_of
from firmware_py.journal.rows import COLUMNS, START_OF_CHAIN, Row, followed, proven, row_of
from firmware_py.journal.run_list import open_runs
from firmware_py.journal.run_rows import RunRow

BALLAST_BYTES = 1 << 20
# So many looks with nothing new, and the log is folded back: an empty log has no bit that could flip.
QUIET_LOOKS = 10
_BACK_IN_PLACE = "restart the controller where nothing has that name; else give the kept file the name first"
_TAILS_KEPT = 256  # subjects whose last number and hash are kept at hand
_LOOK_FOR_ROOM_EVERY = 64  # appends between two looks whether the ballast can be made again

_INSERT = f"INSERT INTO event (seq, {COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"  # noqa: S608 - constants
_LAST = "SELECT number, hash FROM event WHERE subject = ? ORDER BY number DESC LIMIT 1"

Tail = tuple[int, bytes]
Found = TypeVar("Found")


class Journal:
    """The book of one bench, opened to be written. Any thread may use it; one call at a time is served."""

    def __init__(
        self, path: Path, connection: sqlite3.Connection, lock: WriterLock, ballast: Ballast
    ) -> None:
        self.path = path
        self.ballast = ballast
        self._connection = connection
        self._lock = lock
        self._projections = Projections(connection)
        self._turn = RLock()
        self._closed = False
        self._tails: dict[str, Tail] = {}
        self._appends = 0
        self._in_place = InPlace(path)
        self._aside: Journal | None = None
        self._why_aside = ""
        self._quiet = 0
        self._newest = newest_in(connection)
        self._looked_at = self._newest
        self.missing = missing_in(connection, path)

    @classmethod
    def open(cls, path: Path, *, ballast_bytes: int = BALLAST_BYTES) -> Self:
        """Open the journal at ``path``, made if need be, and bring it to the present schema.

        Raises `JournalRefused` where another program writes it (naming its process), where it can not be
        opened, comes from a newer program, or is no journal.
        """
        make_folder(path.parent)
        ballast = Ballast(path, ballast_bytes)
        lock = WriterLock(path)
        try:
            connection = _open_making_room(path, ballast)
            ballast.take_again()
            with refusing(path):
                return cls(path, connection, lock, ballast)
        except BaseException:
            lock.release()
            raise

    def append(self, entries: Sequence[Entry]) -> None:
        """Write all ``entries`` in one transaction, safe on the disk on return.

        Raises `JournalRefused` and writes none of them if any is refused: each must carry the number after
        its subject's last. On a full disk the ballast is given up first.
        """
        with self._turn, refusing(self.path):
            self._require_open()
            self._require_in_place(entries)
            tails: dict[str, Tail] = {}
            rows = [self._next_row(entry, tails) for entry in entries]
            self._write_making_room(entries, rows)
            self._keep(tails)

    def take(self, rows: Sequence[Row]) -> None:
        """Write rows of another journal with the hashes they have, in one transaction.

        Raises `JournalRefused` and writes none of them unless each follows its subject's last event here.
        """
        with self._turn, refusing(self.path):
            self._require_open()
            self._require_in_place(())
            tails: dict[str, Tail] = {}
            entries = []
            for row in rows:
                entries.append(followed(row, *(tails.get(row.subject) or self._tail(row.subject))))
                tails[row.subject] = (row.number, row.hash)
            self._write_making_room(entries, rows)
            self._keep(tails)

    def look_after(self) -> None:
        """Do what may wait until nothing is written: note the newest event beside, fold back a quiet log.

        Called again and again. Raises `JournalRefused` where the file was deleted or replaced meanwhile.
        """
        with self._turn, refusing(self.path):
            if self._closed:
                return
            self._require_in_place(())
            if self._looked_at != self._newest:
                self._looked_at = self._newest
                self._witness()
                self._quiet = 0
            elif self._quiet < QUIET_LOOKS:
                self._quiet += 1
                if self._quiet == QUIET_LOOKS:
                    fold_back(self._connection)

    def accept_missing(self) -> None:
        """Go on from here, though the newest events are missing: a person was told."""
        self.missing = ""

    def _witness(self) -> None:
        if self._newest is not None and not self.missing:
            with suppress(OSError):  # a full disk: the older witness still holds
                write_witness(self.path, self._newest)

    def _require_in_place(self, entries: Sequence[Entry]) -> None:
        """Refuse where the file has lost its name; all of it, and ``entries``, are then kept beside it."""
        trouble = self._in_place.trouble() if self._aside is None else self._why_aside
        if not trouble:
            return
        try:
            if self._aside is None:
                self._aside = Journal.open(save_beside(self._connection, self.path), ballast_bytes=0)
                self._why_aside = trouble
            self._aside.append([e for e in entries if e.number > self._aside.last_number(e.subject)])
        except (OSError, sqlite3.Error, JournalRefused) as error:
            raise JournalRefused(f"{trouble}, and cannot be saved ({error})", where=str(self.path)) from error
        kept = f"; all of it, and what happens now, is kept in {self._aside.path.name}"
        raise JournalRefused(trouble + kept, where=str(self.path), allowed=_BACK_IN_PLACE)

    def hash_at(self, subject: str, number: int) -> bytes:
        """Return the hash of event ``number`` of ``subject``, or the start of every chain for none."""
        with self._turn, refusing(self.path):
            self._require_open()
            query = "SELECT hash FROM event WHERE subject = ? AND number = ?"
            found = self._connection.execute(query, (subject, number)).fetchone()
            return bytes(found[0]) if found else START_OF_CHAIN

    def read(self, subject: str, after: int = 0) -> list[Entry]:
        """Return the entries of ``subject`` numbered above ``after``; none for an unknown one."""
        with self._turn, refusing(self.path):
            self._require_open()
            return entries_of(self._connection, subject, after)

    def subjects(self, first: str | None = None) -> list[str]:
        """Return the subjects that begin with a ``first`` (an event's name), or all, oldest id first."""
        with self._turn, refusing(self.path):
            self._require_open()
            return subjects_of(self._connection, first)

    def open_runs(self) -> list[RunRow]:
        """Return the rows of the runs that have not ended, oldest first."""
        with self._turn, refusing(self.path):
            self._require_open()
            return open_runs(self._connection)

    def open_prints(self) -> list[PrintRow]:
        """Return the rows of the prints that have not ended, oldest first."""
        with self._turn, refusing(self.path):
            self._require_open()
            return open_prints(self._connection)

    def open_baths(self) -> list[BathRow]:
        """Return the rows of the baths that are not discarded, oldest first."""
        with self._turn, refusing(self.path):
            self._require_open()
            return open_baths(self._connection)

    def look(self, query: Callable[[sqlite3.Connection], Found]) -> Found:
        """Return what a query of a room of rows finds."""
        with self._turn, refusing(self.path):
            self._require_open()
            return query(self._connection)

    def last_moment(self) -> tuple[str, float] | None:
        """Return machine start and moment [boot s] of the last event written; None in an empty book."""
        with self._turn, refusing(self.path):
            self._require_open()
            query = "SELECT boot_id, boot_s FROM event ORDER BY seq DESC LIMIT 1"
            found = self._connection.execute(query).fetchone()
        return (str(found[0]), float(found[1])) if found else None

    def last_utc(self) -> str | None:
        """Return what the wall clock said at the last event written (ISO 8601); None in an empty book."""
        with self._turn, refusing(self.path):
            self._require_open()
            found = self._connection.execute("SELECT utc FROM event ORDER BY seq DESC LIMIT 1").fetchone()
        return str(found[0]) if found else None

    def programs(self) -> list[PrintRow]:
        """Return the newest print that kept a program, for each negative, newest first."""
        with self._turn, refusing(self.path):
            self._require_open()
            return newest_programs(self._connection)

    def page_damage(self) -> str:
        """Return the first thing that is wrong with the file's pages, nothing if they are whole."""
        with self._turn, refusing(self.path):
            self._require_open()
            words = str(self._connection.execute("PRAGMA quick_check(1)").fetchone()[0])
            return "" if words == "ok" else " ".join(words.split())

    def open_damage(self) -> str:
        """Return the first event of an open run or print that is not what was written, or nothing."""
        try:
            for subject in (*(r.run_id for r in self.open_runs()), *(p.print_id for p in self.open_prints())):
                with self._turn, refusing(self.path):
                    proven(rows_of(self._connection, subject))
        except JournalRefused as refused:
            return refused.line
        return ""

    def rebuild(self, *, leave_out: bool = False) -> Rebuilt:
        """Make the tables that follow from the events anew, as `Projections.rebuild` does."""
        with self._turn, refusing(self.path):
            self._require_open()
            return self._projections.rebuild(leave_out=leave_out)

    def last_number(self, subject: str) -> int:
        """Return the number of the last event of ``subject``, 0 for an unknown one."""
        with self._turn, refusing(self.path):
            self._require_open()
            return self._tail(subject)[0]

    def close(self) -> None:
        """Fold the log back into the file and let it go; calling it again changes nothing."""
        with self._turn:
            if self._closed:
                return
            self._closed = True
            if self._aside is None:
                self._witness()
            else:
                self._aside.close()
            self._connection.close()
            self.ballast.take_again()
            self._lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _require_open(self) -> None:
        if self._closed:
            raise JournalRefused("the journal is closed", where=str(self.path))

    def _next_row(self, entry: Entry, tails: dict[str, Tail]) -> Row:
        number, previous = tails.get(entry.subject) or self._tail(entry.subject)
        row = row_of(entry, previous)
        if row.number != number + 1:
            what = f"number {row.number} does not follow number {number}"
            raise JournalRefused(what, where=row.subject, allowed=f"number {number + 1}")
        tails[row.subject] = (row.number, row.hash)
        return row

    def _tail(self, subject: str) -> Tail:
        kept = self._tails.get(subject)
        if kept is not None:
            return kept
        found = self._connection.execute(_LAST, (subject,)).fetchone()
        return (int(found[0]), bytes(found[1])) if found else (0, START_OF_CHAIN)

    def _keep(self, tails: dict[str, Tail]) -> None:
        self._tails.update(tails)
        while len(self._tails) > _TAILS_KEPT:
            self._tails.pop(next(iter(self._tails)))

    def _write_making_room(self, entries: Sequence[Entry], rows: Sequence[Row]) -> None:
        try:
            self._write(entries, rows)
        except sqlite3.Error as error:
            if not (is_no_room(error) and self.ballast.give_up()):
                raise
            self._write(entries, rows)
            return
        self._appends += 1
        if self._appends % _LOOK_FOR_ROOM_EVERY == 0:
            self.ballast.take_again()

    def _write(self, entries: Sequence[Entry], rows: Sequence[Row]) -> None:
        try:
            self._connection.execute("BEGIN IMMEDIATE")
            self._projections.follow(entries)
            seq: int = self._connection.execute("SELECT coalesce(max(seq), 0) FROM event").fetchone()[0]
            self._connection.executemany(_INSERT, ((at, *row) for at, row in enumerate(rows, start=seq + 1)))
            self._connection.execute("COMMIT")
            if rows:
                self._newest = Newest(seq + len(rows), rows[-1].hash)
        except BaseException:
            self._projections.forget()
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")
            raise


def _open_making_room(path: Path, ballast: Ballast) -> sqlite3.Connection:
    try:
        return _open_and_migrate(path)
    except TROUBLES as error:
        if not (is_no_room(error) and ballast.give_up()):
            raise refusal_of(error, path) from error
    with refusing(path):
        return _open_and_migrate(path)


def _open_and_migrate(path: Path) -> sqlite3.Connection:
    connection = open_for_writing(path)
    try:
        migrate(connection, path)
        Projections(connection).bring_up_to_date()
    except BaseException:
        connection.close()
        raise
    return connection
