"""The user whom the bench's processes belong to, and a stranger, where this machine lets us be both.

Started by root, the bench runs as an ordinary user, as a service does: only then a folder can be read-only to
it, and only then there is another user who can try its socket. Started by anybody else, it runs as that user.
"""

from __future__ import annotations

import ctypes
import os
import subprocess
import tempfile
from functools import cache
from pathlib import Path

BENCH_USER, STRANGER = 12001, 12002
# <linux/capability.h>, <linux/prctl.h>. READ_SEARCH: the interpreter may lie in a home that others can not
# enter. NICE and IPC_LOCK: what hardware/systemd grants the switchboard.
READ_SEARCH, IPC_LOCK, NICE = 2, 14, 23
_KEEP_CAPABILITIES, _AMBIENT, _RAISE = 8, 47, 2
_CAPABILITY_VERSION = 0x20080522

_libc = ctypes.CDLL(None, use_errno=True)


class _Header(ctypes.Structure):
    _fields_ = (("version", ctypes.c_uint32), ("pid", ctypes.c_int))


class _Set(ctypes.Structure):
    _fields_ = (
        ("effective", ctypes.c_uint32),
        ("permitted", ctypes.c_uint32),
        ("inherited", ctypes.c_uint32),
    )


def is_root() -> bool:
    return os.geteuid() == 0


@cache
def can_mount() -> bool:
    """Whether a small disk can be had here: a container's root may not mount one."""
    if not is_root():
        return False
    with tempfile.TemporaryDirectory() as folder:
        tried = subprocess.run(["mount", "-t", "tmpfs", "storm", folder], check=False, capture_output=True)
        if tried.returncode == 0:
            subprocess.run(["umount", folder], check=True)
    return tried.returncode == 0


def give_to_bench_user(path: Path) -> None:
    """Let a file or folder, and all that is in it, belong to the bench's user."""
    if not is_root():
        return
    for each in (path, *path.rglob("*")):
        os.chown(each, BENCH_USER, BENCH_USER, follow_symlinks=False)


def become_bench_user() -> None:
    """Be the bench's user from now on, in this process and all that it starts."""
    if not is_root():
        return
    held = _held()  # a container's root lacks some of them
    _libc.prctl(_KEEP_CAPABILITIES, 1, 0, 0, 0)
    os.setgroups([])
    os.setresgid(BENCH_USER, BENCH_USER, BENCH_USER)
    os.setresuid(BENCH_USER, BENCH_USER, BENCH_USER)
    kept = [each for each in (READ_SEARCH, IPC_LOCK, NICE) if held >> each & 1]
    bits = sum(1 << each for each in kept)
    wanted = (_Set * 2)(_Set(bits, bits, bits), _Set(0, 0, 0))
    if _libc.capset(ctypes.byref(_Header(_CAPABILITY_VERSION, 0)), ctypes.byref(wanted)) != 0:
        raise OSError(ctypes.get_errno(), "capset")
    for capability in kept:
        _libc.prctl(_AMBIENT, _RAISE, capability, 0, 0)


def _held() -> int:
    """The rights of this process, one bit each."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(next(line for line in status.splitlines() if line.startswith("CapPrm:")).split()[1], 16)


def become_stranger() -> None:
    """Be nobody that the bench knows, without any right; only where we are root."""
    os.setgroups([])
    os.setresgid(STRANGER, STRANGER, STRANGER)
    os.setresuid(STRANGER, STRANGER, STRANGER)
