"""Saves from a damaged journal what is whole or one bit away from it; the rest it keeps as text."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

import msgspec

from firmware_py.journal.connect import open_for_reading
from firmware_py.journal.copies import require_new
from firmware_py.journal.mend import mended
from firmware_py.journal.refused import ODD_VALUES, TROUBLES, JournalRefused, refusal_of
from firmware_py.journal.rows import COLUMNS, Row, wrong_types
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import as_it_lies

_ONE = f"SELECT {COLUMNS} FROM event WHERE seq = ?"  # noqa: S608 - constants
_SMALLEST_EVENT_BYTES = 64  # an id and a hash alone are more
_AT_ONCE = 200


@dataclass(slots=True)
class Saved:
    """How many events were saved, how many of these had to be mended, and how many only stand in the rest."""

    events: int = 0
    mended: int = 0
    rest: int = 0


def rest_of(target: Path) -> Path:
    """Return the file beside ``target`` that holds what could be read but not saved, a JSON object a line."""
    return target.with_name(target.name + ".rest.jsonl")


def salvage(path: Path, target: Path) -> Saved:
    """Save what can be of the journal at ``path`` to the new journal ``target``; ``path`` is left as it is.

    Each subject is saved up to its first event that is lost for good. Raises `JournalRefused`.
    """
    require_new(target)
    require_new(rest_of(target))
    connection = open_for_reading(path)
    connection.text_factory = as_it_lies
    try:
        with Journal.open(target, ballast_bytes=0) as journal, rest_of(target).open("xb") as rest:
            saved = _Salvage(connection, journal, rest).saved()
    except TROUBLES as error:
        raise refusal_of(error, path) from error
    finally:
        connection.close()
    if not saved.rest:
        rest_of(target).unlink()
    return saved


class _Salvage:
    def __init__(self, connection: sqlite3.Connection, journal: Journal, rest: BinaryIO) -> None:
        self._connection = connection
        self._journal = journal
        self._rest = rest
        self._tails: dict[str, tuple[int, bytes]] = {}
        self._batch: list[Row] = []
        self._saved = Saved()

    def saved(self) -> Saved:
        for row in self._readable():
            whole = self._whole(row)
            if whole is None:
                self._lay_aside(row)
                continue
            self._saved.mended += whole != row
            self._tails[whole.subject] = (whole.number, whole.hash)
            self._batch.append(whole)
            if len(self._batch) >= _AT_ONCE:
                self._save_batch()
        self._save_batch()
        return self._saved

    def _whole(self, row: Row) -> Row | None:
        """Return the row as it was written, None where that cannot be found out."""
        try:
            return None if wrong_types(row) else mended(row, self._tails)
        except ODD_VALUES:  # a value that no program of ours wrote
            return None

    def _readable(self) -> Iterator[Row]:
        """Yield every row that can be read, one by one: a bad page hides only its own rows."""
        for seq in range(1, self._last_seq() + 1):
            try:
                found = self._connection.execute(_ONE, (seq,)).fetchone()
            except TROUBLES:
                continue
            if found is not None:
                yield Row._make(found)

    def _last_seq(self) -> int:
        try:
            found = self._connection.execute("SELECT max(seq) FROM event").fetchone()[0]
            return int(found or 0)
        except TROUBLES:
            pages = self._connection.execute("PRAGMA page_count").fetchone()[0]
            size = self._connection.execute("PRAGMA page_size").fetchone()[0]
            return int(pages) * int(size) // _SMALLEST_EVENT_BYTES

    def _save_batch(self) -> None:
        """Save all that wait; if one is refused, each alone, so that only the bad ones are laid aside."""
        batch, self._batch = self._batch, []
        if not self._took(batch):
            for row in batch:
                if not self._took([row]):
                    self._lay_aside(row)

    def _took(self, rows: Sequence[Row]) -> bool:
        try:
            self._journal.take(rows)
        except JournalRefused:
            return False
        self._saved.events += len(rows)
        return True

    def _lay_aside(self, row: Row) -> None:
        self._saved.rest += 1
        self._rest.write(msgspec.json.encode({k: _sayable(v) for k, v in row._asdict().items()}) + b"\n")


def _sayable(value: object) -> object:
    if isinstance(value, str):
        return value.encode(errors="surrogateescape").decode(errors="replace")
    return value.hex() if isinstance(value, bytes) else value
