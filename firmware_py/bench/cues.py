"""What the bench says during a step, and when: a pure schedule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from firmware_py.craft.routine import Step
from firmware_py.devices.sounder import Tune

SOON_S = 30.0
OVERDUE_EVERY_S = 30.0


@dataclass(frozen=True, slots=True)
class Cue:
    """Words and a tune for the moment ``due_s`` [boot s]; ``key`` tells one cue of a step from another."""

    key: str
    words: str
    tune: Tune
    due_s: float


def schedule(step: Step, started_s: float, due_s: float, after_s: float) -> Iterator[Cue]:
    """Give the cues of a step that fall after ``after_s`` [boot s], the next one of each kind.

    ``due_s`` moves with the bath, so the schedule is asked anew each time. Source: own; the half minute is
    common practice, no source.
    """
    if due_s - started_s > 2 * SOON_S and due_s - SOON_S > after_s:
        yield Cue("soon", f"{step.name}: half a minute to go", "soon", due_s - SOON_S)
    if due_s > after_s:
        yield Cue("now", f"{step.name}: now", "now", due_s)
    if step.agitate_every_s:
        turn = int(max(0.0, after_s - started_s) // step.agitate_every_s) + 1
        at_s = started_s + turn * step.agitate_every_s
        side = "left" if turn % 2 else "right"
        if at_s < due_s - 1.0:
            yield Cue(f"agitate {turn}", f"Rock the tray, {side} edge up", "agitate", at_s)


def overdue(step: Step, due_s: float, after_s: float) -> Cue:
    """Give the next reminder that a step is over its time."""
    turn = int(max(0.0, after_s - due_s) // OVERDUE_EVERY_S) + 1
    return Cue(f"overdue {turn}", f"{step.name} is over its time", "overdue", due_s + turn * OVERDUE_EVERY_S)
