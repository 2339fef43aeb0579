"""Equivalent time: what a bath of any temperature has done, in seconds at the reference temperature."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

from firmware_py.craft.rates import Rate, held_rate, held_temperature
from firmware_py.craft.refusal import Refused


def time_at(rate: Rate, time_s: float, from_degC: float, to_degC: float) -> float:
    """Return the time [s] at ``to_degC`` that does what ``time_s`` [s] does at ``from_degC``.

    Refuses a negative time and temperatures outside the rate's range. Source: definition of the rate.
    """
    if not (math.isfinite(time_s) and time_s >= 0):
        raise Refused(f"{time_s:g} s", where="time", allowed="0 s or more")
    return time_s * rate.rate(from_degC) / rate.rate(to_degC)


def equivalent_step(rate: Rate, from_degC: float, to_degC: float, lasted_s: float) -> float:
    """Return the equivalent time [s] of ``lasted_s`` [s] in which the bath went from one reading to the next.

    The trapezoid of the two held rates. Source: own; equivalent time is the integral of the rate.
    """
    if not (math.isfinite(lasted_s) and lasted_s >= 0):
        raise Refused(f"a step of {lasted_s:g} s", where="trace", allowed="times that do not go backwards")
    return lasted_s * (held_rate(rate, from_degC)[0] + held_rate(rate, to_degC)[0]) / 2


def equivalent_time(rate: Rate, trace: Iterable[tuple[float, float]]) -> float:
    """Return the equivalent time [s] of a trace of (time_s, bath_degC), never backwards. Source: own."""
    return math.fsum(
        equivalent_step(rate, from_degC, to_degC, to_s - from_s)
        for (from_s, from_degC), (to_s, to_degC) in pairwise(trace)
    )


def time_left(rate: Rate, wanted_s: float, bath_degC: float) -> float:
    """Return the time [s] in which a bath at ``bath_degC`` [degC] does ``wanted_s`` [s] of equivalent time.

    Outside the range with the edge's rate; nothing wanted gives 0. Source: definition of equivalent time.
    """
    return max(0.0, wanted_s) / held_rate(rate, bath_degC)[0]


def doubt(rate: Rate, bath_degC: float, tolerance_K: float) -> float:
    """Return how uncertain a time is, as a fraction, when the bath is known to ``tolerance_K`` [K].

    Outside the range with the edge's slope. Source: first order of the exponential law; 0.5 degC at a
    coefficient of 2.4 for 10 degC is 4 %.
    """
    return rate.ln_per_K(held_temperature(rate, bath_degC)) * abs(tolerance_K)
