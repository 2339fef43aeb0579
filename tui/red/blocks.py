"""Whether large digits may be drawn of half blocks: the gate, which alone sees the font, tells the screen."""

from __future__ import annotations

import os

VARIABLE = "EMBERTRAY_BLOCKS"
HALVES = frozenset("▀▄")
WHOLE = "whole"


def blocks_variable(font: frozenset[str] | None) -> dict[str, str]:
    """Return what a program behind the gate is told; ``font`` is None where any character can be shown."""
    return {VARIABLE: "half" if font is None or font >= HALVES else WHOLE}


def may_halve() -> bool:
    """Return whether this program's terminal shows half blocks."""
    return os.environ.get(VARIABLE) != WHOLE
