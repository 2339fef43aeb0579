"""The lock that lets one program at a time write a journal."""

from __future__ import annotations

import fcntl
import os
from pathlib import Path

from firmware_py.journal.refused import JournalRefused


class WriterLock:
    """A lock on the file beside the journal; the kernel lets it go however the holder dies."""

    def __init__(self, journal: Path) -> None:
        path = journal.with_name(journal.name + ".lock")
        try:
            self._file = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
        except OSError as error:
            what = f"it can not be locked for writing: {error.strerror}"
            raise JournalRefused(what, where=str(path)) from error
        try:
            fcntl.flock(self._file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            holder = os.pread(self._file, 32, 0).decode("ascii", "replace").strip() or "unknown"
            os.close(self._file)
            held = f"another program writes it (process {holder})"
            raise JournalRefused(held, where=str(journal), allowed="one writer at a time") from error
        self._write_pid()

    def _write_pid(self) -> None:
        try:
            os.ftruncate(self._file, 0)
            os.pwrite(self._file, f"{os.getpid()}\n".encode(), 0)
        except OSError:  # a full disk: the lock holds all the same, it only does not say by whom
            return

    def release(self) -> None:
        """Let another program write; the file stays, for a lock file that is removed can be held twice."""
        os.close(self._file)
