"""Development by first appearance: the time until the image is first seen, times a factor."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.rates import Rate
from firmware_py.craft.refusal import Refused

LARGEST_FACTOR = 100.0

_MODERN = "Modern Photography in Theory and Practice, ch. VII"
_CASSELL = "Cassell's Cyclopaedia of Photography, 1911-12"
_WALL = "E. J. Wall, Dictionary of Photography, under Time, development by"


@dataclass(frozen=True, slots=True)
class PrintedFactor:
    """A factor that somebody printed for an agent: a start, not a law. Source: named in ``source``."""

    agent: str
    contrast: str
    factor: float
    source: str


PRINTED_FACTORS: tuple[PrintedFactor, ...] = (
    PrintedFactor("pyro-soda", "1 gr to the oz", 11, _MODERN),
    PrintedFactor("pyro-soda", "2 gr to the oz", 6, _MODERN),
    PrintedFactor("pyro-soda", "3 gr to the oz", 5.25, _MODERN),
    PrintedFactor("pyro-soda", "4 gr to the oz", 4.5, _MODERN),
    PrintedFactor("pyro-soda", "2 gr to the oz", 5, _WALL),
    PrintedFactor("pyro", "soft", 4, _CASSELL),
    PrintedFactor("pyro", "normal", 6, _CASSELL),
    PrintedFactor("pyro", "strong", 7, _CASSELL),
    PrintedFactor("pyro-metol", "normal", 9, _MODERN),
    PrintedFactor("metol", "normal", 28, _MODERN),
    PrintedFactor("metol", "soft", 20, _CASSELL),
    PrintedFactor("metol", "normal", 30, _CASSELL),
    PrintedFactor("metol", "strong", 35, _CASSELL),
    PrintedFactor("hydroquinone", "normal", 5.5, _MODERN),
    PrintedFactor("metol-hydroquinone", "normal", 13, _MODERN),
    PrintedFactor("glycin", "soft", 9, _CASSELL),
    PrintedFactor("glycin", "normal", 13, _CASSELL),
    PrintedFactor("glycin", "strong", 16, _CASSELL),
    PrintedFactor("amidol", "2 gr to the oz", 18, _MODERN),
    PrintedFactor("amidol", "soft", 7, _CASSELL),
    PrintedFactor("amidol", "normal", 10, _CASSELL),
    PrintedFactor("amidol", "strong", 12, _CASSELL),
    PrintedFactor("paraminophenol", "normal", 40, _MODERN),
    PrintedFactor("paraminophenol", "normal", 16, _CASSELL),
)
# Their factor changes when the bath is diluted; that of the others does not (same books).
DILUTION_MATTERS = frozenset({"pyro-soda", "pyro", "amidol"})


def printed_factors(agent: str) -> tuple[PrintedFactor, ...]:
    """Return the factors in print for ``agent``; they differ twofold between books. Refuses an unknown agent.

    Source: Modern Photography; Cassell's Cyclopaedia; Wall's Dictionary, as listed.
    """
    found = tuple(printed for printed in PRINTED_FACTORS if printed.agent == agent)
    if not found:
        agents = ", ".join(sorted({printed.agent for printed in PRINTED_FACTORS}))
        raise Refused(f'no factor in print is known here for "{agent[:40]}"', where="agent", allowed=agents)
    return found


def factorial_time(appeared_s: float, factor: float) -> float:
    """Return the whole time [s] from pouring on: the time of first appearance [s] times the factor.

    Appearance above 0 s; factor from 1 to 100. Source: A. Watkins, as given in E. J. Wall, Dictionary of
    Photography, "Time, development by".
    """
    _check_appeared(appeared_s)
    _check_factor(factor)
    return appeared_s * factor


def factor_used(appeared_s: float, time_s: float) -> float:
    """Return the factor that a whole time [s] was of its time of appearance [s].

    Source: Practical Photography, ch. XVIII, "Finding the factor".
    """
    _check_appeared(appeared_s)
    if not (math.isfinite(time_s) and time_s >= appeared_s):
        raise Refused(f"a whole time of {time_s:g} s", where="time", allowed="no less than the appearance")
    factor = time_s / appeared_s
    _check_factor(factor)
    return factor


def factor_of_mixture(parts: Sequence[tuple[float, float]]) -> float:
    """Return the factor of a developer mixed of several agents, from (factor, parts) of each.

    The mean weighted by the parts. Source: Cassell's Cyclopaedia of Photography, 1911-12.
    """
    if not parts:
        raise Refused("no agent given", where="mixture", allowed="one or more of factor and parts")
    for factor, share in parts:
        _check_factor(factor)
        if not (math.isfinite(share) and share > 0):
            raise Refused(f"{share:g} parts", where="mixture", allowed="more than 0 parts of each")
    return sum(factor * share for factor, share in parts) / sum(share for _, share in parts)


@dataclass(frozen=True, slots=True)
class Misreading:
    """What a misread appearance does: the whole time's error [s], and its share. Source: arithmetic."""

    time_error_s: float
    share: float


def misread_appearance(appeared_s: float, factor: float, misread_s: float) -> Misreading:
    """Return the error of the whole time when the appearance is seen ``misread_s`` [s] late (early below 0).

    The share is that of the appearance itself: a larger factor multiplies the seconds, and the whole
    time as much. Refuses a misreading so early that nothing is left.
    Source: Practical Photography, par. 454 and 479, in words; arithmetic.
    """
    whole_s = factorial_time(appeared_s, factor)
    if not (math.isfinite(misread_s) and misread_s > -appeared_s):
        raise Refused(f"misread by {misread_s:g} s", where="misread", allowed=f"more than {-appeared_s:g} s")
    return Misreading(misread_s * factor, misread_s * factor / whole_s)


def equivalent_target(appeared_equivalent_s: float, factor: float) -> float:
    """Return the equivalent time [s] to develop to, from the equivalent time [s] of first appearance.

    The factor holds for equivalent time because appearance and growth go quicker alike in warmth.
    Source: own; Watkins' factor is the same at every temperature (Wall's Dictionary, as above).
    """
    return factorial_time(appeared_equivalent_s, factor)


def time_after_appearance(
    rate: Rate, appeared_s: float, factor: float, appeared_degC: float, finished_degC: float
) -> float:
    """Return the time [s] still to go after the image appeared at one temperature, in a bath at another.

    Refuses temperatures [degC] outside the rate's range. Source: own; equivalent time carries the factor.
    """
    to_appear_s = appeared_s * rate.rate(appeared_degC)
    still_s = equivalent_target(to_appear_s, factor) - to_appear_s
    return still_s / rate.rate(finished_degC)


def _check_appeared(appeared_s: float) -> None:
    if not (math.isfinite(appeared_s) and appeared_s > 0):
        raise Refused(f"an appearance after {appeared_s:g} s", where="appeared", allowed="more than 0 s")


def _check_factor(factor: float) -> None:
    if not 1 <= factor <= LARGEST_FACTOR:
        raise Refused(f"a factor of {factor:g}", where="factor", allowed=f"1 to {LARGEST_FACTOR:g}")
