"""The sizes of plates by their names in the trade, and the area of gelatin that a bath has to serve."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.units import read_area_cm2

SMALLEST_CM2 = 1.0
LARGEST_CM2 = 20_000.0
_INCH_CM = 2.54


@dataclass(frozen=True, slots=True)
class PlateSize:
    """A plate by its name and its area [cm²]. Source: own."""

    name: str
    area_cm2: float


# Sides in inches, or in centimetres. Common practice, no source; "half plate" is two sizes, so it is none.
_SIDES_IN: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "quarter plate": (3.25, 4.25),
        "English half plate": (4.75, 6.5),
        "U.S. half plate": (4.25, 5.5),
        "whole plate": (6.5, 8.5),
        "4 x 5 in": (4.0, 5.0),
        "5 x 7 in": (5.0, 7.0),
        "8 x 10 in": (8.0, 10.0),
    }
)
_SIDES_CM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"9 x 12 cm": (9.0, 12.0), "13 x 18 cm": (13.0, 18.0)}
)
PLATE_SIZES: Mapping[str, PlateSize] = MappingProxyType(
    {name: PlateSize(name, a * b * _INCH_CM**2) for name, (a, b) in _SIDES_IN.items()}
    | {name: PlateSize(name, a * b) for name, (a, b) in _SIDES_CM.items()}
)
_OTHER_WORDS: Mapping[str, str] = MappingProxyType(
    {"us half plate": "U.S. half plate", "uk half plate": "English half plate", "full plate": "whole plate"}
)


def read_plate_size(text: str, *, where: str) -> PlateSize:
    """Return the plate that a person's words mean: a name of the trade, or its two sides with a unit.

    "half plate" alone is refused, as the English and the U.S. one differ by a third; so is an area outside
    1 to 20000 cm². Source: common practice, no source.
    """
    wanted = _plain(text)
    if wanted == "half plate":
        raise Refused(
            "a half plate is two sizes", where=where, allowed="English half plate, or U.S. half plate"
        )
    wanted = _plain(_OTHER_WORDS.get(wanted, wanted))
    for name, size in PLATE_SIZES.items():
        if wanted == _plain(name):
            return size
    return PlateSize(" ".join(text.split()), _area_cm2(text, where))


def _area_cm2(text: str, where: str) -> float:
    try:
        area_cm2 = read_area_cm2(text, where=where)
    except Refused as refusal:
        names = ", ".join(PLATE_SIZES)
        raise Refused(
            f"no plate is called {shown(text)}", where=where, allowed=f"{names}, or its sides"
        ) from refusal
    if not SMALLEST_CM2 <= area_cm2 <= LARGEST_CM2:
        raise Refused(
            f"a plate of {area_cm2:g} cm2", where=where, allowed=f"{SMALLEST_CM2:g} to {LARGEST_CM2:g} cm2"
        )
    return area_cm2


def _plain(text: str) -> str:
    return " ".join(text.replace("×", "x").lower().replace(".", "").split())
