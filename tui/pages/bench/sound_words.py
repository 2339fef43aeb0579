"""The patterns of the sounder in signs and words."""

from __future__ import annotations

from firmware_py.facts.tunes import MEANINGS, PATTERNS, Tune
from tui.widgets.wrapping import wrap

LONG_S = 0.25
SOUNDS: tuple[Tune, ...] = tuple(PATTERNS)


def rhythm(tune: Tune) -> str:
    """Return a pattern as signs: a dot for a short beep, a stroke for a long one."""
    return "".join("─" if beep.on_s >= LONG_S else "·" for beep in PATTERNS[tune])


def sound_lines(pointed: Tune, width: int) -> list[str]:
    """Return a line for each sound, and below them what the one pointed at says."""
    lines = [_line(tune, tune == pointed, width) for tune in SOUNDS]
    if _all_fit(width):
        return lines
    said = f"{pointed}: {MEANINGS[pointed]}"
    return [*lines, *wrap(said, width - 1, initial_indent=" ", subsequent_indent=" ")]


def _line(tune: Tune, pointed: bool, width: int) -> str:
    meaning = MEANINGS[tune] if _all_fit(width) else ""
    return f" {'►' if pointed else ' '} {rhythm(tune):<9}{tune:<9}{meaning}".rstrip()


def _all_fit(width: int) -> bool:
    return width >= 22 + max(map(len, MEANINGS.values()))
