"""Equivalent time: what a bath of any temperature has done, in seconds at the reference temperature."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from firmware_py.craft.rates import Rate, ln_rate_doubt, nearest_tested, reckoned_rate, running_rate
from firmware_py.craft.refusal import Refused


def time_at(rate: Rate, time_s: float, from_degC: float, to_degC: float) -> float:
    """Return the time [s] at ``to_degC`` that does what ``time_s`` [s] does at ``from_degC``.

    Outside the tested range by the same law, see `reckoned_rate`, which refuses what no law can tell; refuses
    a negative time. Source: definition of the rate.
    """
    if not (math.isfinite(time_s) and time_s >= 0):
        raise Refused(f"{time_s:g} s", where="time", allowed="0 s or more")
    return time_s * reckoned_rate(rate, from_degC) / reckoned_rate(rate, to_degC)


def equivalent_step(rate: Rate, from_degC: float, to_degC: float, lasted_s: float) -> float:
    """Return the equivalent time [s] of ``lasted_s`` [s] in which the bath went from one reading to the next.

    The trapezoid of the two rates, outside the tested range as `running_rate` says.
    Source: own; equivalent time is the integral of the rate.
    """
    if not (math.isfinite(lasted_s) and lasted_s >= 0):
        raise Refused(f"a step of {lasted_s:g} s", where="trace", allowed="times that do not go backwards")
    return lasted_s * (running_rate(rate, from_degC) + running_rate(rate, to_degC)) / 2


def equivalent_time(rate: Rate, trace: Iterable[tuple[float, float]]) -> float:
    """Return the equivalent time [s] of a trace of (time_s, bath_degC), never backwards. Source: own."""
    return math.fsum(
        equivalent_step(rate, from_degC, to_degC, to_s - from_s)
        for (from_s, from_degC), (to_s, to_degC) in pairwise(trace)
    )


def time_left(rate: Rate, wanted_s: float, bath_degC: float) -> float:
    """Return the time [s] in which a bath at ``bath_degC`` [degC] does ``wanted_s`` [s] of equivalent time.

    Outside the tested range as `running_rate`; nothing wanted gives 0. Source: definition of equivalent time.
    """
    return max(0.0, wanted_s) / running_rate(rate, bath_degC)


def doubt(rate: Rate, bath_degC: float, tolerance_K: float) -> float:
    """Return how uncertain a time is, as a fraction, when the bath is known to ``tolerance_K`` [K].

    The law's own doubt is not in it: see `time_doubt`. Source: first order of the exponential law; 0.5 degC
    at a coefficient of 2.4 for 10 degC is 4 %.
    """
    return rate.ln_per_K(nearest_tested(rate, bath_degC)) * abs(tolerance_K)


def time_doubt(rate: Rate, bath_degC: float, tolerance_K: float) -> float:
    """Return how uncertain a time at ``bath_degC`` [degC] is, as a fraction: by the bath, and by the law.

    A bath known to ``tolerance_K`` [K], and what of the rate itself is in doubt there, as the root of their
    squares: about 19 times in 20 the truth lies within. Source: usual statistics, for independent parts.
    """
    return math.hypot(doubt(rate, bath_degC, tolerance_K), ln_rate_doubt(rate, bath_degC))


@dataclass(frozen=True, slots=True)
class EquivalentDoubt:
    """How far an equivalent time may be off [s]: by the bath's temperature, and by the law.

    Each part is of one cause that goes on (a thermometer's error, a wrong coefficient), so within a part
    seconds add, and the law's may cancel between cold and warm; the two parts are independent.
    ``total_s`` [s] covers the truth about 19 times in 20. Source: usual statistics.
    """

    bath_s: float = 0.0
    law_s: float = 0.0

    @property
    def total_s(self) -> float:
        """Get both together [s]. Source: usual statistics."""
        return math.hypot(self.bath_s, self.law_s)

    def after(self, rate: Rate, bath_degC: float, tolerance_K: float, equivalent_s: float) -> EquivalentDoubt:
        """Return the doubt once ``equivalent_s`` [s] more were done at ``bath_degC`` [degC] known so well.

        Source: first order of the rate's law.
        """
        return EquivalentDoubt(
            self.bath_s + doubt(rate, bath_degC, tolerance_K) * equivalent_s,
            self.law_s + ln_rate_doubt(rate, bath_degC) * equivalent_s,
        )
