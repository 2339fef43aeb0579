"""The picture of the board's header: which place takes which wire."""

from __future__ import annotations

import schemdraw
import schemdraw.elements as elm

from hardware.wiring.pins import HEADER, Line, Supply
from hardware.wiring.sheet import sheet, words

STEP = 0.9


def header_picture(lines: dict[str, Line], supplies: tuple[Supply, ...]) -> schemdraw.Drawing:
    """Draw the 40 places in two columns, the used ones with a wire and its name."""
    drawing = sheet(fontsize=11)
    wires = {line.header: (f"{line.name}: GPIO {line.bcm}", line.colour) for line in lines.values()}
    wires |= {supply.header: (f"{supply.name} ({supply.what})", supply.colour) for supply in supplies}
    rows = len(HEADER) // 2
    low = (STEP + 0.5, -(rows - 1) * STEP - 0.6)
    drawing.add(elm.Rect(corner1=(-0.5, 0.6), corner2=low, fill="whitesmoke").at((0, 0)))
    for place in range(1, len(HEADER) + 1):
        _place(drawing, place, wires.get(place))
    words(drawing, (STEP / 2, 1.1), "place 1 has the square pad")
    return drawing


def _place(drawing: schemdraw.Drawing, place: int, wire: tuple[str, str] | None) -> None:
    left = place % 2 == 1
    x, y = (0.0 if left else STEP), -((place - 1) // 2) * STEP
    away = -1.0 if left else 1.0
    if wire is not None:
        drawing.add(elm.Line(lw=3).at((x, y)).to((x + away * 2.0, y)).color(wire[1]))
        words(drawing, (x + away * 2.2, y), wire[0], side="right" if left else "left")
    hole = elm.Dot(radius=0.34, fill="white").at((x, y)).color(wire[1] if wire else "lightgrey")
    drawing.add(hole)
    words(drawing, (x, y), str(place), fontsize=8)
