"""What a disk does not hold yet: asked of the kernel, and taken away as a power cut would.

``cachestat(2)`` (Linux 6.5) tells how many pages of a file are dirty or on their way; on a file system that
does not keep such pages (tmpfs), or an older kernel, nothing can be lost here, and `can_be_lost` says so.
"""

from __future__ import annotations

import ctypes
import os
from pathlib import Path

PAGE = 4096
_CACHESTAT = 451  # <asm-generic/unistd.h>: the same on every architecture, for it came after 2.6.18

_libc = ctypes.CDLL(None, use_errno=True)


class _Range(ctypes.Structure):
    _fields_ = (("offset", ctypes.c_uint64), ("length", ctypes.c_uint64))


class _Stat(ctypes.Structure):
    _fields_ = tuple(
        (name, ctypes.c_uint64) for name in ("cached", "dirty", "writeback", "evicted", "recent")
    )


def is_unsynced(file: int, offset: int, length: int) -> bool:
    """Whether any page of that part of an open file is not yet on the disk."""
    found, part = _Stat(), _Range(offset, length)
    if _libc.syscall(_CACHESTAT, file, ctypes.byref(part), ctypes.byref(found), 0) != 0:
        return False
    return bool(found.dirty or found.writeback)


def can_be_lost(folder: Path) -> bool:
    """Whether this kernel and file system tell what is unsynced."""
    probe = folder / "unsynced.probe"
    file = os.open(probe, os.O_RDWR | os.O_CREAT)
    try:
        os.write(file, b"x" * PAGE)
        before = is_unsynced(file, 0, PAGE)
        os.fsync(file)
        return before and not is_unsynced(file, 0, PAGE)
    finally:
        os.close(file)
        probe.unlink()


def lose_unsynced(folder: Path) -> int:
    """Take every unsynced page of every file in ``folder`` away; return how many.

    A page that never reached the disk reads as zeros: a hard form of what a disk may show after a cut.
    """
    lost = 0
    for path in sorted(folder.iterdir()):
        if path.is_file() and not path.is_symlink():
            lost += _lose(path)
    return lost


def _lose(path: Path) -> int:
    file = os.open(path, os.O_RDWR)
    try:
        pages = range(0, os.fstat(file).st_size, PAGE)
        lost = [at for at in pages if is_unsynced(file, at, PAGE)]
        for at in lost:
            os.pwrite(file, bytes(min(PAGE, os.fstat(file).st_size - at)), at)
        os.fsync(file)
    finally:
        os.close(file)
    return len(lost)
