"""The bench's time as a screen knows it between two views: its own clock, set by each view that comes."""

from __future__ import annotations

import math
from collections.abc import Callable

from firmware_py.facts.views.bench import BenchView

# A view is on its way for some milliseconds, so its moment seems late. A later view may only bring the
# bench's time forward, unless it differs by more than this: then it is another time altogether.
ANOTHER_TIME_S = 1.0


class BenchTime:
    """Tells the bench's seconds from one's own; ``read_s`` reads one's own clock [s]."""

    def __init__(self, read_s: Callable[[], float]) -> None:
        self._read_s = read_s
        self._speed = 1.0
        self._ahead_s: float | None = None

    def set(self, view: BenchView) -> None:
        """Take the time of a view that has just come."""
        # A bench at infinite speed stands still between its jumps.
        speed = view.speed if math.isfinite(view.speed) else 0.0
        ahead_s = view.as_of_s - self._read_s() * speed
        known_s = self._ahead_s
        same = known_s is not None and speed == self._speed
        if not same or known_s is None or abs(ahead_s - known_s) > ANOTHER_TIME_S * max(1.0, speed):
            self._ahead_s = ahead_s
        else:
            self._ahead_s = max(known_s, ahead_s)
        self._speed = speed

    def now_s(self) -> float:
        """Return the bench's time [boot s]."""
        return (self._ahead_s or 0.0) + self._read_s() * self._speed

    def own_s(self, bench_s: float) -> float:
        """Return how long ``bench_s`` seconds of the bench take on one's own clock [s]."""
        return bench_s / self._speed if self._speed else math.inf
