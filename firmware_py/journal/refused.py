"""How the journal says no: one line, with the file, what is wrong and what helps."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from firmware_py.craft.refusal import Refused

# Primary result codes of SQLite: what it means for a person, and what helps.
_MEANINGS = {
    sqlite3.SQLITE_FULL: ("the disk is full", "free some room on the disk that holds it"),
    sqlite3.SQLITE_READONLY: ("it can only be read", "a file and folder that may be written"),
    sqlite3.SQLITE_PERM: ("it may not be opened", "a file and folder that may be read and written"),
    sqlite3.SQLITE_CANTOPEN: ("it can not be opened", "a file and folder that may be read and written"),
    sqlite3.SQLITE_BUSY: ("another program holds it", "one writer at a time; close the other program"),
    sqlite3.SQLITE_LOCKED: ("another program holds it", "one writer at a time; close the other program"),
    sqlite3.SQLITE_CORRUPT: (
        "the file is damaged",
        "see what `embertray logbook verify` can save",
    ),
    sqlite3.SQLITE_NOTADB: ("it is not a journal, or its first page is damaged", "a journal of Embertray"),
    sqlite3.SQLITE_IOERR: ("the disk gave an error", "a disk in good order"),
}


# What work on a journal can raise. SQLite tells of a damaged schema in the words that stand there: where
# those are no text, Python raises UnicodeDecodeError in the place of SQLite's own error.
TROUBLES = (sqlite3.Error, UnicodeError)
# What a value of another kind than was written can raise, where a damaged file gives one.
ODD_VALUES = (TypeError, ValueError, AttributeError, LookupError, ArithmeticError)


class JournalRefused(Refused):
    """The journal did not take or give something; nothing was written by it.

    ``damaged`` says that the file itself is not what was written into it.
    """

    damaged = False


def primary_code(error: Exception) -> int:
    """Return SQLite's primary result code of ``error``, or 0 where it has none."""
    code: int = getattr(error, "sqlite_errorcode", 0) or 0
    return code & 0xFF


def is_no_room(error: Exception) -> bool:
    """Return whether ``error`` may come from a disk without a free byte.

    At 0 free bytes SQLite can not make the shared-memory file of a WAL database, and says
    SQLITE_IOERR_SHMSIZE or SQLITE_CANTOPEN instead of SQLITE_FULL.
    """
    code: int = getattr(error, "sqlite_errorcode", 0) or 0
    odd = {sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_IOERR_SHMSIZE, sqlite3.SQLITE_IOERR_SHMMAP}
    return primary_code(error) == sqlite3.SQLITE_FULL or code in odd | {sqlite3.SQLITE_IOERR_WRITE}


def refusal_of(error: Exception, path: Path) -> JournalRefused:
    """Return what a person should read about ``error``, one of `TROUBLES`, on the journal at ``path``."""
    # Text that is none is an OperationalError without a code, or a UnicodeError.
    is_no_text = isinstance(error, UnicodeError) or "Could not decode to UTF-8" in str(error)
    is_odd = isinstance(error, ODD_VALUES) or is_no_text
    code = sqlite3.SQLITE_CORRUPT if is_odd else primary_code(error)
    what, allowed = _MEANINGS.get(code, (f"SQLite says {error}", ""))
    refused = JournalRefused(what, where=str(path), allowed=allowed)
    refused.damaged = code in {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB}
    return refused
