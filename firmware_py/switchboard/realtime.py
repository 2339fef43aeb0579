"""What makes the switchboard punctual: the boot clock, a timer on it, priority, locked memory."""

from __future__ import annotations

import ctypes
import gc
import math
import os
import resource
import signal
import time

# Any real-time priority stands above all ordinary processes; the kernel's interrupt threads stay above it.
PRIORITY = 20

# <sys/mman.h>, <sys/prctl.h>, <sys/timerfd.h> of Linux: the same on every architecture with gpio character
# devices (alpha and powerpc differ in the first two).
_MCL_CURRENT, _MCL_FUTURE = 1, 2
_PR_SET_PDEATHSIG = 1
_TFD_TIMER_ABSTIME = 1

_libc = ctypes.CDLL(None, use_errno=True)


class _Timespec(ctypes.Structure):
    _fields_ = (("seconds", ctypes.c_long), ("nanoseconds", ctypes.c_long))


class _Itimerspec(ctypes.Structure):
    _fields_ = (("interval", _Timespec), ("value", _Timespec))


def boot_now_s() -> float:
    """Return CLOCK_BOOTTIME [s]."""
    return time.clock_gettime(time.CLOCK_BOOTTIME)


class BootTimer:
    """A file descriptor (``fd``) that becomes readable at a moment of the boot clock."""

    def __init__(self) -> None:
        self.fd: int = _libc.timerfd_create(time.CLOCK_BOOTTIME, os.O_NONBLOCK | os.O_CLOEXEC)
        if self.fd < 0:
            raise OSError(ctypes.get_errno(), "timerfd_create")

    def arm(self, due_s: float) -> None:
        """Fire at ``due_s`` [boot s], at once if that is past; never if it is infinite."""
        spec = _Itimerspec()
        if math.isfinite(due_s):
            due_ns = max(1, int(due_s * 1e9))
            spec.value = _Timespec(due_ns // 1_000_000_000, due_ns % 1_000_000_000)
        if _libc.timerfd_settime(self.fd, _TFD_TIMER_ABSTIME, ctypes.byref(spec), None) != 0:
            raise OSError(ctypes.get_errno(), "timerfd_settime")


def take_priority() -> bool:
    """Return whether the system granted real-time priority."""
    try:
        os.sched_setscheduler(0, os.SCHED_FIFO, os.sched_param(PRIORITY))
    except OSError:
        return False
    return True


def lock_memory() -> bool:
    """Return whether the system granted that no page of this process is ever fetched from disk.

    Pages to come are locked only where there is no limit: under one, they would be refused later.
    """
    limit, _ = resource.getrlimit(resource.RLIMIT_MEMLOCK)
    future = _MCL_FUTURE if limit == resource.RLIM_INFINITY or os.geteuid() == 0 else 0
    return bool(_libc.mlockall(_MCL_CURRENT | future) == 0)


def end_with_parent(by: signal.Signals = signal.SIGTERM) -> None:
    """Ask the kernel for a signal when the thread that started this process dies."""
    _libc.prctl(_PR_SET_PDEATHSIG, int(by), 0, 0, 0)


def still_the_collector() -> None:
    """Switch garbage collection off, and what there is out of its sight: the loop makes no cycles."""
    gc.collect()
    gc.freeze()
    gc.disable()
