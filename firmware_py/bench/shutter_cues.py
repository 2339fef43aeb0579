"""What is said while a hand exposes under a lamp that is kept lit: soon, now, and over its time."""

from __future__ import annotations

import math
from dataclasses import dataclass

from firmware_py.bench.cues import Cue
from firmware_py.craft.refusal import Refused
from firmware_py.craft.warming import WarmUp
from firmware_py.journal.print_record import PrintRecord

SOON_S = 10.0
OVERDUE_EVERY_S = 10.0


@dataclass(slots=True)
class ShutterCues:
    """The schedule of one uncovering, until the moment ``due_s`` [boot s] when the dose is reached."""

    due_s: float | None = None
    _after_s: float = math.inf

    def begin(self, record: PrintRecord, now_s: float) -> None:
        """Reckon when the frame has got what it shall get."""
        self.due_s, self._after_s = covering_due_s(record), now_s

    def end(self) -> None:
        """Say nothing more."""
        self.due_s = None

    def until(self, now_s: float) -> list[Cue]:
        """Return the cues that fell due since last asked."""
        cue = self._next()
        self._after_s = max(self._after_s, now_s)
        return [cue] if cue is not None and cue.due_s <= now_s else []

    def next_due_s(self, now_s: float) -> float | None:
        """Return the moment [boot s] of the next cue."""
        cue = self._next()
        return None if cue is None else max(cue.due_s, now_s)

    def _next(self) -> Cue | None:
        if self.due_s is None:
            return None
        if self._after_s < self.due_s - SOON_S:
            return Cue("soon", f"Cover the frame in {SOON_S:g} s", "soon", self.due_s - SOON_S)
        if self._after_s < self.due_s:
            return Cue("now", "Cover the frame now", "now", self.due_s)
        turn = int((self._after_s - self.due_s) // OVERDUE_EVERY_S) + 1
        return Cue(
            f"overdue {turn}",
            "The frame is over its time: cover it",
            "overdue",
            self.due_s + turn * OVERDUE_EVERY_S,
        )


def covering_due_s(record: PrintRecord) -> float | None:
    """Return the moment [boot s] at which the uncovered frame has got what it shall get."""
    exposure, lamp = record.exposure, record.lamp_lit
    if record.state != "uncovered" or exposure is None or lamp is None:
        return None
    if exposure.wanted_s is None or exposure.on_s is None or lamp.on_s is None:
        return None
    if not record.opened.warm_up:
        return exposure.on_s + exposure.wanted_s
    try:
        return lamp.on_s + WarmUp(record.opened.warm_up).end_s(exposure.on_s - lamp.on_s, exposure.wanted_s)
    except Refused:
        return None
