"""Whether the file that is written still has its name: one that was deleted is written in vain."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path


class InPlace:
    """Knows the journal's file as it was opened, and looks whether its name still leads there."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._opened = _identity(path)

    def trouble(self) -> str:
        """Return what became of the file, in words; nothing while it is in its place."""
        try:
            now = _identity(self._path)
        except FileNotFoundError:
            return "the file was deleted or moved away while it was in use"
        except OSError as error:
            return f"the file cannot be looked at: {error.strerror}"
        return "" if now == self._opened else "the file was replaced while it was in use"


def saved_books(path: Path) -> list[Path]:
    """Return the books that were saved beside ``path`` when it was deleted or replaced, oldest first."""
    return [name for name in _names(path) if name.exists()]


def save_beside(connection: sqlite3.Connection, path: Path) -> Path:
    """Write all that ``connection`` holds to a new file beside ``path`` (mode 0600); return its name.

    The kernel keeps a deleted file for whoever has it open. Raises OSError or sqlite3.Error.
    """
    target = next(name for name in _names(path) if not name.exists())
    os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC | os.O_NOFOLLOW, 0o600))
    connection.execute("VACUUM INTO ?", (str(target),))
    return target


_MOST = 99


def _names(path: Path) -> list[Path]:
    return [path.with_name(f"{path.stem}.saved-{n}{path.suffix}") for n in range(1, _MOST + 1)]


def _identity(path: Path) -> tuple[int, int]:
    found = path.stat()
    return found.st_dev, found.st_ino
