"""What the camera does to the exposure: long bellows, filters, and the slackening of long exposures."""

from __future__ import annotations

import math
from collections.abc import Iterable

from firmware_py.craft.limits import above_zero, within
from firmware_py.craft.refusal import Refused

__all__ = [
    "RECIPROCITY_BREAK_S",
    "SCHWARZSCHILD",
    "extension_factor",
    "extension_factor_of_bellows",
    "filter_factor",
    "magnification_of_bellows",
    "magnification_of_distance",
    "needed_time_s",
    "stops_of_factor",
    "working_time_s",
]

# Schwarzschild's exponent for the plates of his day; the break at 1 s is convention.
SCHWARZSCHILD = 0.86
RECIPROCITY_BREAK_S = 1.0


def extension_factor(magnification: float) -> float:
    """Return how many times longer to expose at a magnification (image over object): (1 + m) squared.

    Valid from 0 (the distance) to 100. Holds for lenses whose pupils are alike, as old ones nearly are.
    Source: Debenham's table in Practical Photography par. 793-797.
    """
    return (1 + within("magnification", magnification, 0, 100)) ** 2


def magnification_of_bellows(bellows_mm: float, focal_mm: float) -> float:
    """Return the magnification from the bellows' draw and the focal length [mm]: draw over focus, less one.

    The draw is from the lens board's (strictly the rear nodal) plane to the plate. Refuses a draw shorter
    than the focal length: nothing would be sharp. Source: the lens equation.
    """
    above_zero("focal length", focal_mm)
    if above_zero("bellows", bellows_mm) < focal_mm:
        raise Refused(
            f"a draw of {bellows_mm:g} mm is shorter than the focal length",
            where="bellows",
            allowed=f"{focal_mm:g} mm (distant objects) or more",
        )
    return bellows_mm / focal_mm - 1


def magnification_of_distance(distance_mm: float, focal_mm: float) -> float:
    """Return the magnification from the distance of lens to object and the focal length [mm].

    Refuses an object at the focal length or nearer: it has no real image. Source: the lens equation.
    """
    above_zero("focal length", focal_mm)
    if above_zero("distance", distance_mm) <= focal_mm:
        raise Refused(
            f"an object {distance_mm:g} mm away has no image",
            where="distance",
            allowed=f"more than the focal length, {focal_mm:g} mm",
        )
    return focal_mm / (distance_mm - focal_mm)


def extension_factor_of_bellows(bellows_mm: float, focal_mm: float) -> float:
    """Return how many times longer to expose with a draw of the bellows [mm]: (draw / focus) squared.

    Source: as `extension_factor` and `magnification_of_bellows`.
    """
    return extension_factor(magnification_of_bellows(bellows_mm, focal_mm))


def filter_factor(factors: Iterable[float]) -> float:
    """Return the factor of filters worn together: the product of their factors, each from 1 to 1000.

    A filter's factor belongs to one emulsion and one light: a yellow one of 4 on a panchromatic plate
    may stop a blue-sensitive plate altogether. Source: common practice, no source.
    """
    return math.prod(within("filter", factor, 1, 1000) for factor in factors)


def stops_of_factor(factor: float) -> float:
    """Return an exposure factor in stops [stops]. Source: a stop is a doubling."""
    return math.log2(above_zero("factor", factor))


def needed_time_s(
    time_s: float, *, exponent: float = SCHWARZSCHILD, break_s: float = RECIPROCITY_BREAK_S
) -> float:
    """Return how long to expose [s] where ``time_s`` [s] would do if plates kept to reciprocity.

    Beyond ``break_s`` the plate answers to time to the power ``exponent`` only, so the excess over the break
    grows by 1/exponent: 10 s becomes 14.5 s. Valid exponents 0.5 to 1, times to 10^8 s.
    Source: Schwarzschild's law, 0.86 for plates (seen in a handbook); the break: convention.
    """
    _law(time_s, exponent, break_s)
    return time_s if time_s <= break_s else float(break_s * (time_s / break_s) ** (1 / exponent))


def working_time_s(
    time_s: float, *, exponent: float = SCHWARZSCHILD, break_s: float = RECIPROCITY_BREAK_S
) -> float:
    """Return what an exposure [s] is worth [s] to a plate that slackens: the way back of `needed_time_s`.

    Source: as `needed_time_s`.
    """
    _law(time_s, exponent, break_s)
    return time_s if time_s <= break_s else float(break_s * (time_s / break_s) ** exponent)


def _law(time_s: float, exponent: float, break_s: float) -> None:
    within("time", time_s, 1e-6, 1e8)
    within("break", break_s, 1e-6, 1e8)
    within("exponent", exponent, 0.5, 1)
