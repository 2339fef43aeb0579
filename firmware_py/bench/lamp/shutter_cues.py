"""What is said while a hand exposes under a lamp that is kept lit: soon, now, and over its time."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.bench.trays.cues import Cue
from firmware_py.craft.refusal import Refused
from firmware_py.craft.warming import WarmUp
from firmware_py.journal.print_record import PrintRecord

SOON_S = 10.0
OVERDUE_EVERY_S = 10.0


@dataclass(slots=True)
class ShutterCues:
    """The schedule of one uncovering, until the moment ``due_s`` [boot s] when the dose is reached.

    The cues are counted, not told apart by the clock: a moment that rounds to a hair before its own cue
    would else bring that cue again and again.
    """

    due_s: float | None = None
    _number: int = 0

    def begin(self, record: PrintRecord, now_s: float) -> None:
        """Reckon when the frame has got what it shall get."""
        self.due_s = covering_due_s(record)
        has_time = self.due_s is not None and now_s < self.due_s - SOON_S
        self._number = 0 if has_time else 1

    def end(self) -> None:
        """Say nothing more."""
        self.due_s = None

    def until(self, now_s: float) -> list[Cue]:
        """Return the cues that fell due since last asked, each once."""
        due: list[Cue] = []
        while (cue := self._next()) is not None and cue.due_s <= now_s:
            due.append(cue)
            self._number += 1
        return due

    def next_due_s(self) -> float | None:
        """Return the moment [boot s] of the next cue."""
        cue = self._next()
        return None if cue is None else cue.due_s

    def _next(self) -> Cue | None:
        if self.due_s is None:
            return None
        if self._number == 0:
            return Cue("soon", f"Cover the frame in {SOON_S:g} s", "soon", self.due_s - SOON_S)
        if self._number == 1:
            return Cue("now", "Cover the frame now", "now", self.due_s)
        turn = self._number - 1
        words = "The frame is over its time: cover it"
        return Cue(f"overdue {turn}", words, "overdue", self.due_s + turn * OVERDUE_EVERY_S)


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
