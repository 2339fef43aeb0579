"""The harness's own time: the kernel's boot clock, never the one that a session may bend."""

from __future__ import annotations

import select
import time

# Taken before any seam is laid: a forked controller bends its own copy of the module, not this name.
_clock = time.clock_gettime


def now_s() -> float:
    """The boot clock [s]."""
    return _clock(time.CLOCK_BOOTTIME)


def pause(seconds: float) -> None:
    """Wait for something outside this process to go on."""
    select.select([], [], [], max(0.0, seconds))
