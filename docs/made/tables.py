"""Tables and words for Markdown."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterable, Sequence


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table; a bar or a line's end inside a cell is taken care of."""
    lines = [_row(heads), _row(["---"] * len(heads)), *(_row(row) for row in rows)]
    return "\n".join(lines)


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(" ".join(cell.split()).replace("|", "\\|") for cell in cells) + " |"


def said(thing: object) -> str:
    """Return what a docstring says as Markdown: code in single backticks, no sign taken for a tag."""
    words = inspect.getdoc(thing) or ""
    return tidy(words)


def tidy(words: str) -> str:
    """Return plain words as Markdown."""
    return re.sub(r"<(?=[\w/!])", "&lt;", words.replace("``", "`"))


def first_line(thing: object) -> str:
    """Return the first sentence or line of a docstring as Markdown."""
    return said(thing).partition("\n")[0]
