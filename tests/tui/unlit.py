"""Reads terminal output for the least light: a drawn sign, a filled cell, a cursor that is not black."""

from __future__ import annotations

import re

PIECE = re.compile(
    r"\x1b\[0;(?P<manner>[0-9;]*)m|(?P<cursor>\x1b\[\?25h)|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)"
    r"|\x1b\[[0-?]*[ -/]*[@-~]|\x1b[ -/]*.|(?P<drawn>[^\x1b\s]+)"
)
REAL = re.compile(r"38;2;(\d+);0;0;48;2;(\d+);0;0$")
CONSOLE = re.compile(r"3([0-7]);4([0-7])$")


def lights(text: str) -> list[str]:
    """Return whatever in ``text`` would have been seen in a dark room."""
    found, ink, ground = [], 0, 0
    for piece in PIECE.finditer(text):
        if piece["cursor"]:
            found.append("a cursor")
        elif piece["manner"] is not None:
            pen = REAL.search(piece["manner"]) or CONSOLE.search(piece["manner"])
            ink, ground = (int(pen[1]), int(pen[2])) if pen else (1, 1)
            found += [f"a ground of {ground}"] if ground else []
        elif piece["drawn"] and ink:
            found.append(f"{piece['drawn'][:30]!r} of {ink}")
    return found
