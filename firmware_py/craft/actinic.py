"""Clear-sky light for a kind of plate, by the sun's altitude and the height above the sea."""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass
from typing import Literal, get_args

from firmware_py.craft.actinic_table import GROUND_ALBEDO, TABLE
from firmware_py.craft.limits import within
from firmware_py.craft.refusal import Refused, shown

__all__ = [
    "LOWEST_DEG",
    "TRUSTED_DEG",
    "Emulsion",
    "Light",
    "air_mass",
    "barometer_ratio",
    "clear_light",
    "read_emulsion",
]

Emulsion = Literal["blue", "ortho", "pan"]
LOWEST_DEG = 1.0
# Below this the model has the sun's light wrong by more than a stop, and haze decides.
TRUSTED_DEG = 5.0

_WORDS = {
    "blue": "blue",
    "blue-sensitive": "blue",
    "ordinary": "blue",
    "ortho": "ortho",
    "orthochromatic": "ortho",
    "pan": "pan",
    "panchromatic": "pan",
}


@dataclass(frozen=True, slots=True)
class Light:
    """Light on a scene, in parts of the sunlight above the air that the plate can see.

    ``sun`` falls on a surface turned to the sun, ``sky`` on a level one; the sun stands at
    ``altitude_deg`` [deg]. The sky is taken as even, the ground as grey of `GROUND_ALBEDO`.
    Source: the geometry of the Hay & Davies model, as pvlib has it.
    """

    altitude_deg: float
    sun: float
    sky: float

    @property
    def level(self) -> float:
        """Get the light on level ground."""
        return self.sun * math.sin(math.radians(self.altitude_deg)) + self.sky

    @property
    def facing(self) -> float:
        """Get the light on an upright surface that faces the sun."""
        return self.sun * math.cos(math.radians(self.altitude_deg)) + self.shaded

    @property
    def shaded(self) -> float:
        """Get the light on an upright surface turned from the sun: half the sky, and the sunlit ground."""
        return (self.sky + GROUND_ALBEDO * self.level) / 2

    def dimmed(self, sun: float) -> Light:
        """Return the light with only a part ``sun`` of the sun's own. Source: own."""
        return Light(self.altitude_deg, self.sun * sun, self.sky)


def read_emulsion(text: str, *, where: str) -> Emulsion:
    """Read a kind of plate: "blue", "ortho", "pan", or the word in full. Source: own."""
    known = _WORDS.get(text.strip().lower())
    for emulsion in get_args(Emulsion):
        if known == emulsion:
            return emulsion  # type: ignore[no-any-return]
    raise Refused(f"{shown(text)} is not a kind of plate", where=where, allowed="blue, ortho or pan")


def clear_light(altitude_deg: float, emulsion: Emulsion, height_m: float = 0.0) -> Light:
    """Return the light of a clear day for a kind of plate, the sun at an apparent altitude [deg].

    Valid from 1 to 90 degrees (below 5 not to be trusted), heights of -430 to 5000 m.
    At a height the sun's light is weakened less, the weakening going with the square of the barometer, and
    what the air no longer scatters is missing from the sky.
    Source: `TABLE`, between its rows by proportion of logarithms; the height: Abney, Phil. Trans. A 184
    (1893) p. 21 for blue and ultraviolet light, taken over for the other plates; the sky's share: own.
    """
    sun, sky = _at_sea_level(within("altitude", altitude_deg, LOWEST_DEG, 90), emulsion)
    square = barometer_ratio(height_m) ** 2
    if square == 1:
        return Light(altitude_deg, sun, sky)
    clearer = sun**square
    return Light(altitude_deg, clearer, sky * (1 - clearer) / (1 - sun))


def barometer_ratio(height_m: float) -> float:
    """Return the barometer at a height above the sea [m] in parts of that at the sea.

    Valid from -430 to 5000 m. Source: the standard atmosphere, ISO 2533.
    """
    return float((1 - 2.25577e-5 * within("height", height_m, -430, 5000)) ** 5.25588)


def air_mass(altitude_deg: float) -> float:
    """Return the thickness of air the sun shines through, in parts of that overhead.

    Valid from 0 to 90 degrees of apparent altitude. Source: Kasten & Young, Applied Optics 28 (1989) p. 4735.
    """
    above = within("altitude", altitude_deg, 0, 90)
    return float(1 / (math.sin(math.radians(above)) + 0.50572 * (above + 6.07995) ** -1.6364))


def _at_sea_level(altitude_deg: float, emulsion: Emulsion) -> tuple[float, float]:
    rows = TABLE[emulsion]
    upper = min(bisect_right(rows, altitude_deg, key=lambda row: row[0]), len(rows) - 1)
    below, above = rows[upper - 1], rows[upper]
    part = (altitude_deg - below[0]) / (above[0] - below[0])
    sun, sky = (below[column] * (above[column] / below[column]) ** part for column in (1, 2))
    return sun, sky
