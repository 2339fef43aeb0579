"""A lamp that needs minutes to reach its full light, and the dose a frame gets in front of it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from firmware_py.craft.limits import above_zero, finite, not_negative
from firmware_py.craft.refusal import Refused

Level = tuple[float, float]


@dataclass(frozen=True, slots=True)
class WarmUp:
    """A lamp's light while it warms, measured by its user: (seconds since it was lit, light of 1 for full).

    At least one level; times from 0 or later and rising, light 0 or more; `Refused` otherwise.
    Between the levels straight lines; before the first, its light in proportion from 0; after the last the
    lamp is warm and its light stays as it is. Source: own; the levels are the user's measurement.
    """

    levels: tuple[Level, ...]

    def __post_init__(self) -> None:
        if not self.levels:
            raise Refused("no levels", where="warm-up", allowed="at least one")
        for time_s, light in self.levels:
            not_negative("warm-up, time in s", time_s)
            not_negative("warm-up, light", light)
        for (early_s, _), (later_s, _) in pairwise(self.levels):
            if later_s <= early_s:
                raise Refused(f"{later_s:g} s after {early_s:g} s", where="warm-up", allowed="rising times")

    @property
    def warm_after_s(self) -> float:
        """Get the time [s] after which the light stays as it is. Source: the user's levels."""
        return self.levels[-1][0]

    def light(self, lit_s: float) -> float:
        """Return the light, of 1 for full, ``lit_s`` [s] >= 0 after the lamp was lit.

        Raises `Refused` for a negative time. Source: linear interpolation.
        """
        not_negative("time since lit, s", lit_s)
        for (early_s, less), (later_s, more) in self._pieces():
            if lit_s < later_s:
                return less + (more - less) * (lit_s - early_s) / (later_s - early_s)
        return self.levels[-1][1]

    def dose_s(self, from_s: float, to_s: float) -> float:
        """Return the running dose, in seconds of full light [s], between two moments [s] since lighting.

        Raises `Refused` unless 0 <= from_s <= to_s. Source: integral of `light`.
        """
        not_negative("exposure from, s", from_s)
        if not from_s <= to_s < math.inf:
            raise Refused(f"{from_s:g} s to {to_s:g} s", where="exposure", allowed="an end after the start")
        return self._since_lit_s(to_s) - self._since_lit_s(from_s)

    def end_s(self, from_s: float, wanted_s: float) -> float:
        """Return the moment [s] since lighting by which ``wanted_s`` [s] of full light came after ``from_s``.

        Raises `Refused` for a dose not above 0 and for a lamp that would never give it.
        Source: `dose_s`, solved.
        """
        above_zero("dose, s", wanted_s)
        goal_s = self._since_lit_s(not_negative("exposure from, s", from_s)) + wanted_s
        for (early_s, less), (later_s, more) in self._pieces():
            missing_s = goal_s - self._since_lit_s(early_s)
            if missing_s <= 0.5 * (less + more) * (later_s - early_s):
                return early_s + _time_to(missing_s, less, (more - less) / (later_s - early_s))
        missing_s = goal_s - self._since_lit_s(self.warm_after_s)
        if self.levels[-1][1] == 0:
            raise Refused(f"a dose of {wanted_s:g} s", where="warm-up", allowed="a lamp that gives light")
        return finite("end, s", self.warm_after_s + missing_s / self.levels[-1][1])

    def _pieces(self) -> Iterator[tuple[Level, Level]]:
        """Yield the straight pieces from the moment of lighting to the last level."""
        start = () if self.levels[0][0] == 0 else ((0.0, 0.0),)
        yield from pairwise((*start, *self.levels))

    def _since_lit_s(self, lit_s: float) -> float:
        total_s = max(0.0, lit_s - self.warm_after_s) * self.levels[-1][1]
        for (early_s, less), (later_s, _) in self._pieces():
            if lit_s > early_s:
                upto_s = min(lit_s, later_s)
                total_s += 0.5 * (less + self.light(upto_s)) * (upto_s - early_s)
        return total_s


def _time_to(dose_s: float, light: float, slope_per_s: float) -> float:
    """Return how long a light that starts at ``light`` and grows evenly needs for ``dose_s``.

    The stable form of the quadratic's root: it also holds where the light does not change.
    """
    root = math.sqrt(max(0.0, light * light + 2.0 * slope_per_s * dose_s))
    return 0.0 if dose_s <= 0 else 2.0 * dose_s / (light + root)
