"""Draw every picture of the wiring (``python -m hardware.wiring``), from the pin table alone."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import schemdraw

from hardware.wiring.header_picture import header_picture
from hardware.wiring.low_voltage import low_voltage
from hardware.wiring.pins import read_lines, read_supplies
from hardware.wiring.relay_board import mains_chain, relay_driver
from hardware.wiring.small_parts import small_parts

PICTURES = Path(__file__).parents[2] / "docs" / "hardware"

DRAWN: Mapping[str, Callable[[], schemdraw.Drawing]] = {
    "header": lambda: header_picture(read_lines(), read_supplies()),
    "low-voltage": lambda: low_voltage(read_lines()),
    "relay": lambda: relay_driver(read_lines()),
    "mains-order": lambda: mains_chain(read_lines()),
    "small-parts": lambda: small_parts(read_lines()),
}


def picture(name: str) -> str:
    """Return the picture called ``name`` as SVG, black on white: the manual is read in the light."""
    schemdraw.use("svg")
    schemdraw.svgconfig.text = "text"
    text: str = DRAWN[name]().get_imagedata("svg").decode("utf-8")
    return text if text.endswith("\n") else f"{text}\n"


def main() -> int:
    """Write every picture into the manual."""
    PICTURES.mkdir(exist_ok=True)
    for name in DRAWN:
        (PICTURES / f"{name}.svg").write_text(picture(name), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
