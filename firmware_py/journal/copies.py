"""Copies of a journal for elsewhere: a whole file, JSON Lines of its events, a flat table of its runs."""

from __future__ import annotations

import codecs
import csv
import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

import msgspec

from firmware_py.facts.about_run import AboutRun
from firmware_py.journal.cells import cell
from firmware_py.journal.connect import open_for_reading
from firmware_py.journal.lines import written
from firmware_py.journal.reading import refusing
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.rows import COLUMNS, Row
from firmware_py.journal.run_rows import RunRow

_COLUMNS = tuple(name for name in RunRow._fields if name != "about")
_ABOUT = tuple(name for name in AboutRun.__struct_fields__ if name not in _COLUMNS)
TABLE_HEADINGS = (*_COLUMNS, *_ABOUT)


def backup(journal: Path, target: Path) -> None:
    """Write the journal as it stands at one moment to the new file ``target``, also while it is written.

    The copy appears under its name only when it is whole and on the disk. Raises `JournalRefused`.
    """
    connection = open_for_reading(journal)
    try:
        with refusing(journal), whole_or_not_at_all(target) as part:
            connection.execute("PRAGMA query_only = OFF")  # VACUUM INTO counts as writing
            connection.execute("VACUUM INTO ?", (str(part),))
    finally:
        connection.close()


def write_lines(connection: sqlite3.Connection, file: BinaryIO) -> None:
    """Write every event as JSON Lines (`firmware_py.journal.lines`), by subject and number."""
    file.writelines(written(all_rows(connection)))


def write_table(connection: sqlite3.Connection, file: BinaryIO) -> None:
    """Write a CSV table (UTF-8) with a row for each run, oldest first, units in the headings."""
    table = csv.writer(codecs.getwriter("utf-8")(file), lineterminator="\n")
    table.writerow(TABLE_HEADINGS)
    query = f"SELECT {', '.join(_COLUMNS)}, about FROM run ORDER BY place"  # noqa: S608 - constants
    for *cells, told in connection.execute(query):
        known = msgspec.json.decode(told)
        table.writerow(map(cell, (*cells, *(known.get(name) for name in _ABOUT))))


def all_rows(connection: sqlite3.Connection) -> Iterator[Row]:
    """Yield every event of the journal, by subject and number."""
    query = f"SELECT {COLUMNS} FROM event ORDER BY subject, number"  # noqa: S608 - constants
    yield from map(Row._make, connection.execute(query))


def require_new(target: Path) -> None:
    """Refuse the name of a file that is there already, a link that leads nowhere included."""
    if os.path.lexists(target):
        what = "there is such a file already"
        raise JournalRefused(what, where=str(target), allowed="the name of a new file")


@contextmanager
def whole_or_not_at_all(target: Path, *, over: bool = False) -> Iterator[Path]:
    """Give an empty private file that becomes ``target`` if all goes well, and vanishes if not.

    A file that stands already is refused, or with ``over`` replaced. What has the name of the part is refused
    in any case: nothing is written through a file or link that somebody else put there.
    """
    part = target.with_name(target.name + ".part")
    if not over:
        require_new(target)
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC
    try:
        os.close(os.open(part, flags, 0o600))
    except FileExistsError as error:
        allowed = "take it away: it is left of an earlier try, or somebody else's"
        raise JournalRefused("there is such a file already", where=str(part), allowed=allowed) from error
    except OSError as error:
        raise JournalRefused(f"it can not be made: {error.strerror}", where=str(target)) from error
    try:
        yield part
        _sync(part)
        part.rename(target)
        _sync(target.parent)
    finally:
        part.unlink(missing_ok=True)


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY | os.O_CLOEXEC)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
