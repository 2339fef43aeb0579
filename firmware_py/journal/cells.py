"""Cells of a table for other programs: nothing in them can act on a terminal, or be run as a formula.

A spreadsheet runs a cell that begins with ``=``, ``+``, ``-`` or ``@`` (also behind a tab or a return), and
takes one behind an apostrophe for text. Source: common practice, no source.
"""

from __future__ import annotations

import re
from typing import TypeVar

from firmware_py.craft.refusal import plain

Value = TypeVar("Value")

_RUNS = re.compile(r"'*[=+\-@\t\r]")
_KEPT = "\n\t\r"


def cell(value: Value) -> Value | str:
    """Return a value as it goes into a table: numbers as they are, text so that it stays text."""
    if not isinstance(value, str):
        return value
    text = plain(value, keep=_KEPT)
    return f"'{text}" if _RUNS.match(text) else text


def read_cell(text: str) -> str:
    """Return the text that `cell` made this of; any other text as it is."""
    return text[1:] if text.startswith("'") and _RUNS.match(text[1:]) else text
