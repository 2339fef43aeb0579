"""A witness of the newest event, in a tiny file beside the journal: so a log that lost its end is noticed.

SQLite takes a log whose end is damaged for a shorter one, and so do its own checks. The witness is written
after the commit, on the disk for itself, and means "at least": an event that it does not know of yet is no
fault, one that it knows of and the journal has not is missing. It holds one line: the row, the row's hash and
a sum over both.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

_LONGEST = 256


class Newest(NamedTuple):
    """The newest row: its place in the book, from 1, and its hash."""

    seq: int
    hash: bytes


def witness_path(journal: Path) -> Path:
    """Return the file of the witness, beside the journal."""
    return journal.with_name(journal.name + ".newest")


def newest_in(connection: sqlite3.Connection) -> Newest | None:
    """Return the newest row of the journal itself, None for an empty one."""
    found = connection.execute("SELECT seq, hash FROM event ORDER BY seq DESC LIMIT 1").fetchone()
    return Newest(int(found[0]), bytes(found[1])) if found else None


def witnessed(journal: Path) -> Newest | None:
    """Return what the witness says; None where there is none, or one whose sum is wrong."""
    with suppress(OSError, ValueError):
        handle = os.open(witness_path(journal), os.O_RDONLY | os.O_CLOEXEC | os.O_NOFOLLOW | os.O_NONBLOCK)
        try:
            seq, hash_, sum_ = os.read(handle, _LONGEST).decode("ascii").split()
        finally:
            os.close(handle)
        if sum_ == _sum(f"{seq} {hash_}"):
            return Newest(int(seq), bytes.fromhex(hash_))
    return None


def write_witness(journal: Path, newest: Newest) -> None:
    """Put the newest event on the disk, for a later start. Raises OSError."""
    words = f"{newest.seq:016d} {newest.hash.hex()}"
    flags = os.O_WRONLY | os.O_CREAT | os.O_CLOEXEC | os.O_NOFOLLOW | os.O_NONBLOCK
    handle = os.open(witness_path(journal), flags, 0o600)
    try:
        os.pwrite(handle, f"{words} {_sum(words)}\n".encode("ascii"), 0)
        os.fdatasync(handle)
    finally:
        os.close(handle)


def missing_in(connection: sqlite3.Connection, journal: Path) -> str:
    """Return in words which of the newest events the journal at ``journal`` has lost, nothing for none."""
    witness = witnessed(journal)
    if witness is None:
        return ""
    newest = newest_in(connection)
    here = newest.seq if newest else 0
    if here < witness.seq:
        count = witness.seq - here
        return f"{count} of the newest events {'are' if count > 1 else 'is'} missing"
    found = connection.execute("SELECT hash FROM event WHERE seq = ?", (witness.seq,)).fetchone()
    if found is None or found[0] != witness.hash:
        return f"event {witness.seq} is another one than was written"
    return ""


def _sum(words: str) -> str:
    return sha256(words.encode("ascii")).hexdigest()[:32]
