"""Test strips whose patches stand a whole or part of a stop apart, and reading a time off them."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import Literal

from firmware_py.craft.limits import above_zero, finite, within
from firmware_py.craft.refusal import Refused

Method = Literal["covering", "uncovering"]
METHODS: tuple[Method, ...] = ("covering", "uncovering")

FEWEST_PATCHES, MOST_PATCHES = 2, 24  # own: more do not fit on a half plate
NARROWEST_STEP_STOPS, WIDEST_STEP_STOPS = 0.01, 4.0  # own
LONGEST_PATCH_S = 4 * 3600.0  # own: a printing-out paper in a weak lamp


@dataclass(frozen=True, slots=True)
class Strip:
    """A test strip: what each patch gets, and the exposures that give it.

    *covering*: the whole strip is exposed, then one patch after another is covered: patch 1 gets the least.
    *uncovering*: only patch 1 lies open at first, then one after another is uncovered: patch 1 gets most.
    ``times_s`` [s] by patch; ``increments_s`` [s] in the order in which they are exposed.
    Source: common practice, no source.
    """

    method: Method
    times_s: tuple[float, ...]
    increments_s: tuple[float, ...]


def strip_from(shortest_s: float, step_stops: float, patches: int, method: Method = "covering") -> Strip:
    """Plan a strip whose least exposed patch gets ``shortest_s`` [s] and each next one ``step_stops`` more.

    Parameters: time above 0 [s]; step 0.01 to 4 [stops]; 2 to 24 patches; the longest patch at most 4 h.
    Raises `Refused` outside these. Source: common practice, no source (a stop is a factor of two).
    """
    above_zero("shortest patch, s", shortest_s)
    within("step, stops", step_stops, NARROWEST_STEP_STOPS, WIDEST_STEP_STOPS)
    within("patches", patches, FEWEST_PATCHES, MOST_PATCHES)
    rising_s = tuple(shortest_s * math.exp2(step_stops * number) for number in range(patches))
    within("longest patch, s", rising_s[-1], 0.0, LONGEST_PATCH_S)
    times_s = rising_s if _known(method) == "covering" else rising_s[::-1]
    return Strip(method, times_s, increments_s(times_s, method))


def strip_about(middle_s: float, step_stops: float, patches: int, method: Method = "covering") -> Strip:
    """Plan a strip whose patches lie evenly about ``middle_s`` [s]: a guess, or the time of the last print.

    Ranges and errors as `strip_from`. Source: common practice, no source.
    """
    above_zero("middle, s", middle_s)
    within("patches", patches, FEWEST_PATCHES, MOST_PATCHES)
    within("step, stops", step_stops, NARROWEST_STEP_STOPS, WIDEST_STEP_STOPS)
    return strip_from(middle_s * math.exp2(-step_stops * (patches - 1) / 2), step_stops, patches, method)


def increments_s(times_s: Sequence[float], method: Method) -> tuple[float, ...]:
    """Return the exposures to make [s], in order, for patches that shall get ``times_s`` [s].

    The times must rise from patch to patch for *covering* and fall for *uncovering*; `Refused` otherwise.
    Source: subtraction.
    """
    rising_s = tuple(times_s) if _known(method) == "covering" else tuple(times_s)[::-1]
    if not rising_s:
        raise Refused("no patches", where="strip", allowed="at least one patch")
    above_zero("patch, s", rising_s[0])
    for less_s, more_s in pairwise(rising_s):
        if not less_s < more_s < math.inf:
            direction = "rise" if method == "covering" else "fall"
            raise Refused(
                f"patches of {less_s:g} s and {more_s:g} s",
                where="strip",
                allowed=f"times that {direction} from patch to patch when {method}",
            )
    differences = (rising_s[0], *(more_s - less_s for less_s, more_s in pairwise(rising_s)))
    return differences if method == "covering" else differences[::-1]


def given_s(exposed_s: Sequence[float], method: Method) -> tuple[float, ...]:
    """Return what each patch got [s] from the exposures ``exposed_s`` [s] really made, in their order.

    So that the measured times of a strip, not its planned ones, are read. Each must be above 0; `Refused`
    otherwise. Source: addition.
    """
    for exposure_s in exposed_s:
        above_zero("exposure, s", exposure_s)
    if _known(method) == "covering":
        return tuple(accumulate(exposed_s))
    return tuple(accumulate(reversed(exposed_s)))[::-1]


def time_at_s(times_s: Sequence[float], place: float) -> float:
    """Return the time [s] of patch ``place``; 3.5 is half-way, in stops, from patch 3 to patch 4.

    ``place`` runs from 1 to the number of patches; raises `Refused` outside.
    Source: a stop is a factor of two.
    """
    _checked(times_s)
    within("patch", place, 1, len(times_s))
    before = min(int(place), len(times_s) - 1)
    this_s, next_s = times_s[before - 1], times_s[before]
    time_s = this_s * math.exp2((place - before) * math.log2(next_s / this_s))
    # Rounding must not put the last patch beyond itself: `place_of` would refuse it.
    return min(max(time_s, min(this_s, next_s)), max(this_s, next_s))


def place_of(times_s: Sequence[float], time_s: float) -> float:
    """Return where on the strip ``time_s`` [s] lies: the opposite of `time_at_s`.

    Raises `Refused` for a time that no place on the strip got. Source: a stop is a factor of two.
    """
    _checked(times_s)
    rising = times_s[0] < times_s[-1]
    rising_s = tuple(times_s) if rising else tuple(times_s)[::-1]
    within("time, s", time_s, rising_s[0], rising_s[-1])
    before = min(bisect_right(rising_s, time_s), len(rising_s) - 1)
    less_s, more_s = rising_s[before - 1], rising_s[before]
    place = before + math.log2(time_s / less_s) / math.log2(more_s / less_s)
    return place if rising else len(rising_s) + 1 - place


def say_stops(stops: float) -> str:
    """Say stops as a darkroom does: "1/3 stop", "1 stop", "1 1/2 stops", else to two decimals.

    Parts down to a twelfth are known. Raises `Refused` for what is not finite. Source: common practice.
    """
    part = Fraction(finite("stops", stops)).limit_denominator(12)
    word = "stop" if abs(stops) <= 1 else "stops"
    if abs(part - stops) > 1e-6:
        return f"{stops:.2f} {word}"
    whole, rest = divmod(abs(part), 1)
    pieces = ["-" if part < 0 else "", f"{whole}" if whole or not rest else "", f"{rest}" if rest else ""]
    return f"{pieces[0]}{' '.join(filter(None, pieces[1:]))} {word}"


def _checked(times_s: Sequence[float]) -> None:
    """Refuse times that are no strip: fewer than two, or neither rising nor falling all along."""
    within("patches", len(times_s), FEWEST_PATCHES, MOST_PATCHES)
    increments_s(times_s, "covering" if times_s[0] < times_s[-1] else "uncovering")


def _known(method: Method) -> Method:
    if method not in METHODS:
        raise Refused(f"no method called {method!r}", where="strip", allowed=" or ".join(METHODS))
    return method
