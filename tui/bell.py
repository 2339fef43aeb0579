"""The terminal's bell in the place of a sounder: each pattern as so many strokes."""

from __future__ import annotations

import asyncio
import os
from collections.abc import Callable

from firmware_py.facts.tunes import PATTERNS, Tune
from firmware_py.facts.views.bench import SoundView
from tui.gate.wishes import BELL_VARIABLE

# Quicker strokes run together on most terminals.
APART_S = 0.2


def strokes(tune: Tune) -> list[float]:
    """Return the moments [s] of the strokes that stand for a pattern: one for each beep."""
    moments, at_s = [], 0.0
    for beep in PATTERNS[tune]:
        moments.append(at_s)
        at_s += max(APART_S, beep.on_s + beep.rest_s)
    return moments


class Bell:
    """Rings what the bench sounds, where the gate was told to let it; ``ring`` gives one stroke."""

    def __init__(self, ring: Callable[[], None]) -> None:
        self._ring = ring
        self._wanted = os.environ.get(BELL_VARIABLE) == "1"
        self._heard: int | None = None
        self._coming: list[asyncio.TimerHandle] = []

    def hear(self, sounded: SoundView | None) -> None:
        """Take in the last sound of the bench; what was sounded before this screen opened is over."""
        before, self._heard = self._heard, sounded.number if sounded is not None else 0
        if sounded is None or before is None or sounded.number == before or not self._wanted:
            return
        for stroke in self._coming:
            stroke.cancel()
        loop = asyncio.get_running_loop()
        self._coming = [loop.call_later(at_s, self._ring) for at_s in strokes(sounded.tune)]
