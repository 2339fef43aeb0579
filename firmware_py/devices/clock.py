"""The only place that asks what time it is or waits for it."""

from __future__ import annotations

import asyncio
import math
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Protocol
from uuid import uuid4


class Clock(Protocol):
    """Seconds since the machine started (they never jump), the wall clock, and waiting for a moment.

    ``boot_id`` names the start of the machine that the seconds are counted from.
    """

    boot_id: str
    speed: float

    def now_s(self) -> float:
        """Return seconds since boot [s], suspend included; never goes back."""
        ...

    def utc(self) -> datetime:
        """Return the wall clock's time; it may be wrong after a start without network."""
        ...

    async def wait_until(self, due_s: float, wake: asyncio.Event) -> None:
        """Return when ``due_s`` [s] is reached or ``wake`` is set, whichever is first."""
        ...


class BootClock:
    """The machine's own clock: CLOCK_BOOTTIME for durations, the wall clock only as a label."""

    speed = 1.0

    def __init__(self) -> None:
        self.boot_id = _kernel_boot_id()

    def now_s(self) -> float:
        """Return CLOCK_BOOTTIME [s]."""
        return time.clock_gettime(time.CLOCK_BOOTTIME)

    def utc(self) -> datetime:
        """Return the wall clock in UTC."""
        return datetime.fromtimestamp(time.clock_gettime(time.CLOCK_REALTIME), tz=UTC)

    async def wait_until(self, due_s: float, wake: asyncio.Event) -> None:
        """Return when ``due_s`` [s] is reached or ``wake`` is set."""
        await _first_of(wake, due_s - self.now_s())


class SimulatedClock:
    """A clock that runs ``speed`` times as fast as the real one, or jumps (``speed`` = inf).

    It starts at ``start_s`` on an invented machine start, so that two rehearsals of one script agree to
    the last digit. At infinite speed, time stands still but for `wait_until`, which jumps to its moment.
    """

    def __init__(
        self,
        *,
        speed: float = math.inf,
        start_s: float = 1000.0,
        boot_id: str | None = None,
        start_utc: datetime | None = None,
    ) -> None:
        self.speed = speed
        self.boot_id = boot_id or uuid4().hex
        self._start_s = start_s
        self._jumped_s = 0.0
        self._real = BootClock()
        self._real_start_s = self._real.now_s()
        self._start_utc = start_utc or self._real.utc()

    def now_s(self) -> float:
        """Return the simulated seconds since boot [s]."""
        if math.isinf(self.speed):
            return self._start_s + self._jumped_s
        return self._start_s + (self._real.now_s() - self._real_start_s) * self.speed

    def utc(self) -> datetime:
        """Return the simulated wall clock."""
        return self._start_utc + timedelta(seconds=self.now_s() - self._start_s)

    def jump_to(self, due_s: float) -> None:
        """Move an infinitely fast clock to ``due_s`` [s]; never back."""
        self._jumped_s = max(self._jumped_s, due_s - self._start_s)

    async def wait_until(self, due_s: float, wake: asyncio.Event) -> None:
        """Return when ``due_s`` [s] is reached or ``wake`` is set; at infinite speed, jump there."""
        if not math.isinf(self.speed):
            await _first_of(wake, (due_s - self.now_s()) / self.speed)
            return
        await asyncio.sleep(0)
        if not wake.is_set() and math.isfinite(due_s):
            self.jump_to(due_s)
        elif not wake.is_set():
            await wake.wait()


def boot_from_monotonic_s(monotonic_s: float) -> float:
    """Return the moment on CLOCK_BOOTTIME [s] of a recent one on CLOCK_MONOTONIC [s].

    The two differ by the time the machine has been suspended, which must not have happened in between.
    """
    return monotonic_s + time.clock_gettime(time.CLOCK_BOOTTIME) - time.clock_gettime(time.CLOCK_MONOTONIC)


async def _first_of(wake: asyncio.Event, seconds: float) -> None:
    if seconds <= 0 or wake.is_set():
        await asyncio.sleep(0)
        return
    try:
        await asyncio.wait_for(wake.wait(), seconds if math.isfinite(seconds) else None)
    except TimeoutError:
        return


def _kernel_boot_id() -> str:
    return Path("/proc/sys/kernel/random/boot_id").read_text(encoding="ascii").strip().replace("-", "")
