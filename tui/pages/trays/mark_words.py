"""The marks of a routine with the key of each."""

from __future__ import annotations

from firmware_py.facts.views.run import LaneView
from tui.pages.shared.time_words import printable

ROWS = 2
NUMBERS = "123456789"


def keyed_marks(lane: LaneView) -> dict[str, str]:
    """Return the marks of a tray's routine by their keys: those of the list of marks, else numbers."""
    keys = lane.mark_keys or tuple(NUMBERS)
    return {key: name for key, name in zip(keys, lane.mark_names, strict=False) if key}


def mark_lines(lane: LaneView, width: int, rows: int = ROWS) -> list[list[tuple[str, str]]]:
    """Return keys and marks as rows of ``width`` columns take them."""
    lines: list[list[tuple[str, str]]] = [[]]
    column = 0
    for key, name in keyed_marks(lane).items():
        words = printable(name)
        needed = len(key) + len(words) + 5
        if column and column + needed > width + 2:
            lines.append([])
            column = 0
        lines[-1].append((key, words))
        column += needed
    return lines[:rows]
