"""Plate speeds in the old and the new scales, and which of them can be turned into which."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from firmware_py.craft.limits import within
from firmware_py.craft.refusal import Refused

__all__ = [
    "SCALES",
    "Scale",
    "convert_speed",
    "hd_from_inertia",
    "inertia_from_hd",
    "inertia_from_watkins",
    "inertia_from_wynne",
    "iso_degrees_from_iso",
    "iso_from_iso_degrees",
    "ratio_of_scheiner",
    "ratio_of_speeds",
    "stops_between_speeds",
    "watkins_from_inertia",
    "wynne_from_inertia",
]

SCHEINER_STEP = 100 ** (1 / 19)


def hd_from_inertia(inertia_cms: float) -> float:
    """Return the Hurter & Driffield speed of an inertia [candle-metre-seconds]: 34 over it.

    Refuses what is not above zero. Source: M. J. Martin, Wireless Transmission of Photographs, 2nd ed.
    1919 (its rows for 20 and 160 are misprinted).
    """
    return 34 / _plausible("inertia", inertia_cms)


def inertia_from_hd(hd: float) -> float:
    """Return the inertia [candle-metre-seconds] of a Hurter & Driffield speed.

    Source: as `hd_from_inertia`.
    """
    return 34 / _plausible("H&D", hd)


def watkins_from_inertia(inertia_cms: float) -> float:
    """Return the Watkins number of an inertia [candle-metre-seconds]: 50 over it.

    Source: as `hd_from_inertia`.
    """
    return 50 / _plausible("inertia", inertia_cms)


def inertia_from_watkins(watkins: float) -> float:
    """Return the inertia [candle-metre-seconds] of a Watkins number. Source: as `hd_from_inertia`."""
    return 50 / _plausible("Watkins", watkins)


def wynne_from_inertia(inertia_cms: float) -> float:
    """Return the Wynne F-number of an inertia [candle-metre-seconds]: 6.4 times the root of Watkins.

    A Wynne number is a stop, so speeds go with its square. Source: as `hd_from_inertia`.
    """
    return 6.4 * math.sqrt(watkins_from_inertia(inertia_cms))


def inertia_from_wynne(wynne: float) -> float:
    """Return the inertia [candle-metre-seconds] of a Wynne F-number. Source: as `hd_from_inertia`."""
    return inertia_from_watkins((_plausible("Wynne", wynne) / 6.4) ** 2)


def iso_degrees_from_iso(iso: float) -> float:
    """Return the logarithmic ISO speed (the later DIN degrees) of an arithmetic one: 1 + 10 log10 S.

    Source: V. Setälä, Valokuvaus 1940, pp. 492-494, as quoted in the PyNomo manual; ISO 6, from memory.
    """
    return 1 + 10 * math.log10(_plausible("ISO", iso))


def iso_from_iso_degrees(degrees: float) -> float:
    """Return the arithmetic ISO speed of a logarithmic one. Source: as `iso_degrees_from_iso`."""
    return 10 ** ((within("ISO degrees", degrees, -40, 60) - 1) / 10)


def ratio_of_scheiner(degrees_from: float, degrees_to: float) -> float:
    """Return how many times faster the second plate is, from Scheiner degrees: 19 degrees make 100.

    Valid from 1 to 50 degrees. Source: the scale's definition in a handbook (19 degrees 100 times,
    3 degrees 2.069 times). Two Scheiner scales were in use, some ten degrees apart (from memory):
    compare only within one.
    """
    first = within("Scheiner", degrees_from, 1, 50)
    return float(SCHEINER_STEP ** (within("Scheiner", degrees_to, 1, 50) - first))


@dataclass(frozen=True, slots=True)
class Scale:
    """A speed scale: ``family`` says which scales it can be turned into.

    ``speed`` gives a number that grows as the plate's speed does, ``number`` the way back. Source: own.
    """

    name: str
    family: str
    speed: Callable[[float], float]
    number: Callable[[float], float]


def _of_inertia(speed: float) -> float:
    return 1 / _plausible("speed", speed)


_HD, _ISO, _SCHEINER = "inertia", "ISO", "Scheiner"
SCALES: Mapping[str, Scale] = MappingProxyType(
    {
        "inertia": Scale("inertia", _HD, _of_inertia, _of_inertia),
        "hd": Scale("H&D", _HD, lambda n: 1 / inertia_from_hd(n), lambda v: hd_from_inertia(1 / v)),
        "watkins": Scale(
            "Watkins", _HD, lambda n: 1 / inertia_from_watkins(n), lambda v: watkins_from_inertia(1 / v)
        ),
        "wynne": Scale(
            "Wynne F", _HD, lambda n: 1 / inertia_from_wynne(n), lambda v: wynne_from_inertia(1 / v)
        ),
        "iso": Scale("ISO", _ISO, lambda n: _plausible("ISO", n), lambda v: v),
        "iso-degrees": Scale("ISO degrees (DIN)", _ISO, iso_from_iso_degrees, iso_degrees_from_iso),
        "scheiner": Scale(
            "Scheiner",
            _SCHEINER,
            lambda n: ratio_of_scheiner(1, n),
            lambda v: 1 + math.log(_plausible("speed", v)) / math.log(SCHEINER_STEP),
        ),
    }
)


def convert_speed(number: float, scale: str, to_scale: str) -> float:
    """Turn a speed from one scale into another, where a definition joins the two; otherwise refuse.

    Inertia, H&D, Watkins and Wynne are one family; ISO and its degrees another; Scheiner stands alone.
    Between families no constant can be defended: each has its own light, developer and point of the curve.
    Source: as each scale's own function; the refusal: own.
    """
    one, other = _scale(scale), _scale(to_scale)
    if one.family != other.family:
        raise Refused(
            f"{one.name} can not be turned into {other.name}: they measure different points of the curve by "
            "different light, and no constant holds for all plates",
            where="speed",
            allowed="an index of your own from a trial exposure (f/16 at 1/index in bright sun)",
        )
    return other.number(one.speed(number))


def ratio_of_speeds(number_from: float, number_to: float, scale: str) -> float:
    """Return how many times faster the second plate is, both in one scale.

    Source: as each scale's own function.
    """
    one = _scale(scale)
    return one.speed(number_to) / one.speed(number_from)


def stops_between_speeds(number_from: float, number_to: float, scale: str) -> float:
    """Return how many stops faster the second plate is, both in one scale [stops].

    Source: as each scale's own function.
    """
    return math.log2(ratio_of_speeds(number_from, number_to, scale))


def _scale(name: str) -> Scale:
    if name not in SCALES:
        raise Refused(f'the speed scale "{name}" is not known', where="speed", allowed=", ".join(SCALES))
    return SCALES[name]


def _plausible(name: str, number: float) -> float:
    """Return ``number`` if a plate could have it in any scale: a millionth to a thousand million."""
    return within(name, number, 1e-6, 1e9)
