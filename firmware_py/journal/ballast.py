"""A file that only takes up room, so that there is room to give when the disk is full."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path


class Ballast:
    """``size_bytes`` [bytes] kept beside the journal: given up on a full disk, made again when there is room.

    A journal in WAL mode can not even be opened on a disk without a free byte (measured), and an exposure
    is refused when its announcement can not be written: the ballast buys the time to end the session.
    """

    def __init__(self, journal: Path, size_bytes: int) -> None:
        self.path = journal.with_name(journal.name + ".ballast")
        self._size_bytes = size_bytes

    @property
    def is_held(self) -> bool:
        """Get whether the room is still kept."""
        return self.path.exists()

    def give_up(self) -> bool:
        """Free the room; return whether there was any to free."""
        try:
            self.path.unlink()
        except OSError:
            return False
        return True

    def take_again(self) -> None:
        """Keep the room again if the disk has four times as much free; otherwise do nothing."""
        if self.is_held or self._free_bytes() < 4 * self._size_bytes:
            return
        with suppress(OSError):
            self._fill()

    def _free_bytes(self) -> int:
        disk = os.statvfs(self.path.parent)
        return disk.f_bavail * disk.f_frsize

    def _fill(self) -> None:
        file = os.open(self.path, os.O_WRONLY | os.O_CREAT | os.O_CLOEXEC, 0o600)
        try:
            os.posix_fallocate(file, 0, self._size_bytes)
            os.fsync(file)
        except OSError:
            self.give_up()
            raise
        finally:
            os.close(file)
