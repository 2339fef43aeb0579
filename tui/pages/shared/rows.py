"""Rows of which one is chosen: which of them are shown, and how the one that counts stands out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

from textual.content import Content

from tui.widgets.wrapping import wrap

Row = TypeVar("Row")


def around(rows: Sequence[Row], at: int, room: int) -> list[tuple[int, Row]]:
    """Return as many rows as there is room for, the one at ``at`` amidst them, each with its place."""
    first = max(0, min(at - room // 2, len(rows) - room))
    return list(enumerate(rows))[first : first + room]


def at_most(lines: list[str], most: int, more: str) -> list[str]:
    """Return the lines, or where there are too many the first of them, and how many ``more`` there are."""
    return lines if len(lines) <= most else [*lines[: most - 1], f" and {len(lines) - most + 1} {more}"]


def standing_out(words: str, width: int) -> Content:
    """Return a row in reverse over its whole width: the one that keys act on, or that presses."""
    return Content.styled(f"{words:<{width}}", "bold reverse")


def wrapped(lines: Iterable[str], width: int) -> list[str]:
    """Return lines of words as rows of a page, what is carried over set in."""
    return [part for line in lines for part in wrap(f" {line}", width, subsequent_indent="   ")]
