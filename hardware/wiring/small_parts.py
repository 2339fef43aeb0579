"""The schematic of what is touched: foot switch, thermometers, piezo."""

from __future__ import annotations

import schemdraw
import schemdraw.elements as elm

from hardware.wiring.pins import Line
from hardware.wiring.sheet import board_end, sheet, words


def small_parts(lines: dict[str, Line]) -> schemdraw.Drawing:
    """Draw foot switch, piezo and 1-Wire thermometers at their lines."""
    drawing = sheet()
    _foot(drawing, lines["foot switch"], 0.0)
    _piezo(drawing, lines["sounder"], 8.0)
    _thermometers(drawing, lines["thermometers"], 16.5)
    return drawing


def _foot(drawing: schemdraw.Drawing, line: Line, x: float) -> None:
    board_end(drawing, line, (x, 0.0))
    drawing.add(elm.Resistor().at((x, 0)).to((x + 2.4, 0)).label("1 kΩ", loc="top"))
    drawing.add(elm.Dot().at((x + 2.4, 0)))
    drawing.add(elm.Button().at((x + 2.4, 0)).down(2.4).label("foot\nswitch", loc="top"))
    drawing.add(elm.Ground())
    drawing.add(elm.Line().at((x + 2.4, 0)).to((x + 3.6, 0)))
    drawing.add(elm.Capacitor().at((x + 3.6, 0)).down(2.4).label("100 nF", loc="bottom"))
    drawing.add(elm.Ground())


def _piezo(drawing: schemdraw.Drawing, line: Line, x: float) -> None:
    board_end(drawing, line, (x, 0.0))
    drawing.add(elm.Resistor().at((x, 0)).to((x + 2.4, 0)).label("220 Ω", loc="top"))
    piezo = drawing.add(elm.Speaker().theta(0).at((x + 2.4, 0)))
    words(drawing, (x + 3.5, -0.3), "piezo", side="left")
    drawing.add(elm.Line().at(piezo.in2).down(1.2))
    drawing.add(elm.Ground())


def _thermometers(drawing: schemdraw.Drawing, line: Line, x: float) -> None:
    board_end(drawing, line, (x, 0.0))
    drawing.add(elm.Line().at((x, 0)).to((x + 7.0, 0)))
    drawing.add(elm.Dot().at((x + 1.6, 0)))
    drawing.add(elm.Resistor().at((x + 1.6, 0)).up(2.2).label("4.7 kΩ", loc="top"))
    drawing.add(elm.Line().at((x + 1.6, 2.2)).to((x + 8.6, 2.2)))
    drawing.add(elm.Dot(open=True).at((x + 8.6, 2.2)))
    words(drawing, (x + 8.9, 2.2), "3.3 V, header 1", side="left")
    for number, place_x in enumerate((x + 3.6, x + 7.0), 1):
        _thermometer(drawing, number, place_x)


def _thermometer(drawing: schemdraw.Drawing, number: int, x: float) -> None:
    """Draw one probe with its three wires: data and ground below the bus, power from above it."""
    width, high_y, low_y = 2.4, -1.0, -2.6
    box = elm.Rect(corner1=(0, 0), corner2=(width, low_y - high_y)).theta(0).at((x - 0.6, high_y))
    drawing.add(box)
    words(drawing, (x + 0.6, (high_y + low_y) / 2), f"probe {number}\n(digital, 1-Wire)", fontsize=10)
    drawing.add(elm.Dot().at((x, 0)))
    drawing.add(elm.Line().at((x, 0)).to((x, high_y)))
    drawing.add(elm.Line().at((x + 1.2, 2.2)).to((x + 1.2, high_y)))
    drawing.add(elm.Dot().at((x + 1.2, 2.2)))
    drawing.add(elm.Line().at((x + 0.6, low_y)).down(0.6))
    drawing.add(elm.Ground())
