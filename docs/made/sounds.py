"""The patterns of the sounder, from the patterns that it plays and the strokes that a terminal rings."""

from __future__ import annotations

from docs.made.tables import table, tidy
from firmware_py.facts.tunes import MEANINGS, PATTERNS, Tune
from tui.bell import strokes

HEADS = ("sound", "beeps (s), least urgent first", "pitch", "bell rings", "says")


def sounds_part() -> str:
    """Return a table of every sound."""
    return table(HEADS, [_row(tune) for tune in PATTERNS])


def _row(tune: Tune) -> tuple[str, ...]:
    beeps = PATTERNS[tune]
    played = ", ".join(f"{beep.on_s:.2f}" for beep in beeps)
    times = len(strokes(tune))
    return f"`{tune}`", played, f"{beeps[0].hertz:g} Hz", f"{times}", tidy(MEANINGS[tune])
