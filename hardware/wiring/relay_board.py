"""A relay by an active-high driver, and what protects a mains load, drawn as boxes only."""

from __future__ import annotations

import schemdraw
import schemdraw.elements as elm
from schemdraw import flow

from hardware.wiring.pins import Line
from hardware.wiring.sheet import sheet, words


def relay_driver(lines: dict[str, Line]) -> schemdraw.Drawing:
    """Draw how one line pulls a relay in; every relay has its own of these."""
    drawing = sheet()
    transistor = drawing.add(elm.BjtNpn(circle=True).at((0, 0)).anchor("base").label("NPN", loc="right"))
    drawing.add(elm.Ground().at(transistor.emitter))
    drawing.add(elm.Dot().at((0, 0)))
    drawing.add(elm.Resistor().at((0, 0)).down(2.2).label("10 kΩ", loc="top"))
    drawing.add(elm.Ground())
    series = drawing.add(elm.Resistor().at((0, 0)).left(2.4).label("1 kΩ", loc="top"))
    drawing.add(elm.Dot(open=True).at(series.end))
    relays = [lines[name] for name in ("safelight", "printing lamp", "heater")]
    ends = "\n".join(f"{line.name}: GPIO {line.bcm}, header {line.header}" for line in relays)
    words(drawing, (series.end.x - 0.3, series.end.y), f"one for each of\n{ends}", side="right")
    _coil(drawing, transistor.collector)
    return drawing


def _coil(drawing: schemdraw.Drawing, collector: schemdraw.util.Point) -> None:
    """Draw the coil with its diode, and beyond the isolation its contact."""
    x, low_y, high_y = float(collector.x), float(collector.y) + 0.6, float(collector.y) + 3.4
    drawing.add(elm.Line().at(collector).to((x, low_y)))
    drawing.add(elm.Dot().at((x, low_y)))
    drawing.add(elm.Inductor2(loops=4).at((x, low_y)).to((x, high_y)))
    words(drawing, (x - 0.5, (low_y + high_y) / 2), "relay's coil\n5 V or 12 V", side="right")
    drawing.add(elm.Dot().at((x, high_y)))
    drawing.add(elm.Line().at((x, low_y)).to((x + 2.0, low_y)))
    drawing.add(elm.Diode().at((x + 2.0, low_y)).to((x + 2.0, high_y)))
    words(drawing, (x + 2.4, (low_y + high_y) / 2), "flyback\ndiode", side="left")
    drawing.add(elm.Line().at((x + 2.0, high_y)).to((x, high_y)))
    drawing.add(elm.Vdd().at((x, high_y)))
    words(drawing, (x, high_y + 1.1), "coil's supply, of its own")
    _contact(drawing, x + 5.4, low_y, high_y)


def _contact(drawing: schemdraw.Drawing, x: float, low_y: float, high_y: float) -> None:
    drawing.add(elm.Line(ls="--").at((x, low_y - 0.6)).to((x, high_y + 0.6)))
    words(drawing, (x, high_y + 1.1), "reinforced isolation")
    drawing.add(elm.Switch().at((x + 2.0, low_y)).to((x + 2.0, high_y)))
    words(drawing, (x + 2.5, (low_y + high_y) / 2), "normally open\ncontact: the load", side="left")
    drawing.add(elm.Dot(open=True).at((x + 2.0, low_y)))
    drawing.add(elm.Dot(open=True).at((x + 2.0, high_y)))


# What stands between the socket and the lamp, in this order; each is there for a failure of the others.
MAINS_CHAIN = (
    "fixed\ninstallation",
    "residual-current\ndevice, 30 mA",
    "two-pole\nmain switch",
    "fuse for\nthe load",
    "timer relay or\nheartbeat guard",
    "relay's contact\n(contactor)",
    "heater only:\nthermal fuse",
    "lamp or\nheater",
)
EARTH = "protective earth to every metal part; one closed, insulated enclosure"
WARNING = "MAINS: wired, tested and signed off by a qualified person, under the rules of the place"


def mains_chain(_lines: dict[str, Line]) -> schemdraw.Drawing:
    """Draw the order of what protects a mains load; the wiring itself is a qualified person's work."""
    drawing = sheet(fontsize=11)
    at = (0.0, 0.0)
    for number, text in enumerate(MAINS_CHAIN):
        box = drawing.add(flow.Box(w=3.1, h=1.6).theta(0).at(at).anchor("W").label(text))
        at = (float(box.E.x) + 0.7, 0.0)
        if number < len(MAINS_CHAIN) - 1:
            drawing.add(flow.Arrow().at(box.E).to(at))
    width = at[0] - 0.7
    drawing.add(flow.Box(w=width, h=0.9).theta(0).at((0, -1.7)).anchor("W").label(EARTH))
    words(drawing, (width / 2, 1.5), WARNING)
    return drawing
