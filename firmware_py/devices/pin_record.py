"""The record of mock pins: every level written, with its moment, kept outside the process that wrote it."""

from __future__ import annotations

import errno
import fcntl
import os
import time
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class PinEntry:
    """A line that was driven to a level (``driven``), or let go, at ``at_s`` [boot s]."""

    at_s: float
    pin: int
    driven: bool
    high: bool


class PinRecord:
    """A file that takes one line for each change; each is written whole, so that it outlives a SIGKILL.

    As on a board, a line belongs to the process that drives it, until that lets it go or dies: driving one of
    another process raises OSError.
    """

    def __init__(self, path: Path | str) -> None:
        self._file = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT | os.O_CLOEXEC, 0o644)

    def drive(self, pin: int, *, high: bool) -> None:
        """Note that the line was driven."""
        self._claim(pin)
        at_s = time.clock_gettime(time.CLOCK_BOOTTIME)
        os.write(self._file, f"{at_s:.6f} {pin} out {int(high)}\n".encode("ascii"))

    def let_go(self, pin: int) -> None:
        """Note that the line became an input."""
        at_s = time.clock_gettime(time.CLOCK_BOOTTIME)
        os.write(self._file, f"{at_s:.6f} {pin} in 0\n".encode("ascii"))
        fcntl.lockf(self._file, fcntl.LOCK_UN, 1, pin)

    def _claim(self, pin: int) -> None:
        """Lock the byte of the file that stands for the line; the kernel gives it back when we die."""
        try:
            fcntl.lockf(self._file, fcntl.LOCK_EX | fcntl.LOCK_NB, 1, pin)
        except BlockingIOError as error:
            raise OSError(errno.EBUSY, f"line {pin} is driven by another process") from error


def read_record(path: Path | str) -> list[PinEntry]:
    """Return all entries of a record file, oldest first; none if there is no file yet."""
    try:
        text = Path(path).read_text(encoding="ascii")
    except FileNotFoundError:
        return []
    return [_entry(line) for line in text.splitlines()]


def _entry(line: str) -> PinEntry:
    at_s, pin, way, level = line.split()
    return PinEntry(float(at_s), int(pin), way == "out", level == "1")
