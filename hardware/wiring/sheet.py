"""What the pictures have in common: an empty sheet, words on it, and a line's end at the board."""

from __future__ import annotations

from typing import Literal

import schemdraw
import schemdraw.elements as elm

from hardware.wiring.pins import Line

# The library only guesses how wide words are: leave room.
MARGIN = 1.2


def sheet(fontsize: float = 12) -> schemdraw.Drawing:
    """Return an empty sheet."""
    drawing = schemdraw.Drawing(show=False)
    drawing.config(fontsize=fontsize, unit=2.5, margin=MARGIN, bgcolor="white")
    return drawing


def words(
    drawing: schemdraw.Drawing,
    at: tuple[float, float],
    text: str,
    *,
    side: Literal["left", "center", "right"] = "center",
    fontsize: float | None = None,
) -> None:
    """Write ``text`` at a point: to the right of it (side left), to the left of it (right) or around it."""
    # The library sets the words a little high and to the right of where they are asked for.
    place = (at[0] - (0.1 if side == "center" else 0.0), at[1] - 0.2)
    label = elm.Label().theta(0).at(place).zorder(9)
    drawing.add(label.label(text, fontsize=fontsize, halign=side, valign="center", ofst=0))


def board_end(drawing: schemdraw.Drawing, line: Line, at: tuple[float, float]) -> None:
    """Draw the end of a line at the board, with its numbers to the left."""
    drawing.add(elm.Dot(open=True).at(at))
    words(drawing, (at[0] - 0.3, at[1]), f"GPIO {line.bcm}\nheader {line.header}", side="right")
