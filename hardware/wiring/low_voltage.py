"""The schematic that nobody needs a licence for: 12 V lights, switched by transistors."""

from __future__ import annotations

import schemdraw
import schemdraw.elements as elm

from hardware.wiring.pins import Line
from hardware.wiring.sheet import board_end, sheet, words

RAIL_Y, FIRST_X, STEP_X = 9.0, 8.0, 8.4

# What hangs on each line; the heater has a fuse of its own that heat opens.
LOADS = {
    "safelight": "safelight\nred LEDs, 12 V",
    "printing lamp": "printing lamp\nwhite LEDs, 12 V",
    "heater": "heater pad, 12 V\n(optional)",
}


def low_voltage(lines: dict[str, Line]) -> schemdraw.Drawing:
    """Draw 12 V supply, fuse, and a transistor for each light and for the heater."""
    drawing = sheet()
    _rail(drawing)
    for column, (name, load) in enumerate(LOADS.items()):
        _channel(drawing, lines[name], load, FIRST_X + column * STEP_X)
    return drawing


def _rail(drawing: schemdraw.Drawing) -> None:
    supply = drawing.add(elm.BatteryCell().at((0, RAIL_Y - 4.0)).to((0, RAIL_Y)))
    words(drawing, (-0.8, RAIL_Y - 2.0), "12 V DC\nsupply\n(SELV)", side="right")
    drawing.add(elm.Ground().at(supply.start))
    words(drawing, (0, RAIL_Y - 5.2), "to the board's ground,\nheader 14")
    drawing.add(elm.Switch().at((0, RAIL_Y)).right().label("main switch", loc="top"))
    fuse = drawing.add(elm.Fuse().right().label("fuse F1", loc="top"))
    drawing.add(elm.Line().at(fuse.end).to((FIRST_X + (len(LOADS) - 1) * STEP_X, RAIL_Y)))
    words(drawing, (FIRST_X - 1.6, RAIL_Y + 0.4), "+12 V")


def _channel(drawing: schemdraw.Drawing, line: Line, load: str, x: float) -> None:
    """Draw one load between the rail and its transistor, whose gate a resistor holds low."""
    drawing.add(elm.Dot().at((x, RAIL_Y)))
    first, second = (x, RAIL_Y), (x, RAIL_Y - 1.6)
    if line.name == "heater":
        drawing.add(elm.Fuse().at(first).to(second))
        words(drawing, (x + 0.5, RAIL_Y - 0.8), "thermal\nfuse", side="left")
        drawing.add(elm.Resistor().at(second).to((x, RAIL_Y - 3.8)))
    else:
        drawing.add(elm.Resistor().at(first).to(second))
        words(drawing, (x + 0.5, RAIL_Y - 0.8), "resistor\nin the lamp", side="left")
        drawing.add(elm.LED().at(second).to((x, RAIL_Y - 3.8)))
    words(drawing, (x + 1.2, RAIL_Y - 2.7), load, side="left")
    transistor = drawing.add(elm.NFet(bulk=False).at((x, RAIL_Y - 3.8)).anchor("drain").theta(0).reverse())
    words(drawing, (x + 0.4, RAIL_Y - 4.7), "logic-level\nN-MOSFET", side="left")
    drawing.add(elm.Ground().at(transistor.source))
    _gate(drawing, line, transistor.gate)


def _gate(drawing: schemdraw.Drawing, line: Line, gate: schemdraw.util.Point) -> None:
    drawing.add(elm.Dot().at(gate))
    drawing.add(elm.Resistor().at(gate).down(2.2).label("10 kΩ", loc="top"))
    drawing.add(elm.Ground())
    series = drawing.add(elm.Resistor().at(gate).left(2.2).label("220 Ω", loc="top"))
    board_end(drawing, line, (float(series.end.x), float(series.end.y)))
