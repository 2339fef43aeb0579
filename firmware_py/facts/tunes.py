"""The tunes of the bench: their patterns, what each means, and their urgency."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Tune = Literal["heard", "held", "left", "right", "look", "soon", "water", "overdue", "now", "trouble", "call"]


@dataclass(frozen=True, slots=True)
class Beep:
    """A tone of ``on_s`` [s] at ``hertz`` [Hz], then ``rest_s`` [s] of silence."""

    on_s: float
    rest_s: float
    hertz: float


# Told apart by rhythm, not by pitch alone: many sounders have but one pitch. Common practice, no source.
# In the order of their urgency, least first.
PATTERNS: Mapping[Tune, tuple[Beep, ...]] = MappingProxyType(
    {
        "heard": (Beep(0.03, 0.0, 880.0),),
        "held": (Beep(0.03, 0.05, 880.0), Beep(0.03, 0.0, 880.0)),
        "left": (Beep(0.08, 0.0, 660.0),),
        "right": (Beep(0.08, 0.08, 660.0), Beep(0.08, 0.0, 660.0)),
        "look": (Beep(0.30, 0.15, 550.0), Beep(0.30, 0.0, 550.0)),
        "soon": (Beep(0.30, 0.15, 660.0), Beep(0.08, 0.0, 660.0)),
        "water": (Beep(0.08, 0.08, 550.0), Beep(0.30, 0.0, 550.0)),
        "overdue": (Beep(0.15, 0.10, 880.0), Beep(0.15, 0.10, 880.0), Beep(0.15, 0.0, 880.0)),
        "now": (Beep(0.80, 0.0, 880.0),),
        "trouble": (Beep(0.40, 0.20, 440.0), Beep(0.10, 0.10, 440.0), Beep(0.40, 0.0, 440.0)),
        "call": tuple(Beep(0.10, 0.05, 880.0) for _ in range(8)),
    }
)
# What each says, for the manual and the Bench page.
MEANINGS: Mapping[Tune, str] = MappingProxyType(
    {
        "heard": "a press of the foot, or a mark, was taken",
        "held": "held long enough: lift it for the long press",
        "left": "rock the tray, left edge up",
        "right": "rock the tray, right edge up",
        "look": "look at the plate: is it clear?",
        "soon": "half a minute to go, for step or safelight",
        "water": "change the water",
        "overdue": "a step is over its time and waits",
        "now": "the step is at its end: move the plate",
        "trouble": "something is wrong or refused: read the screen",
        "call": "come at once: the plate is at its ceiling",
    }
)
URGENCY: Mapping[Tune, int] = MappingProxyType({tune: rank for rank, tune in enumerate(PATTERNS)})
