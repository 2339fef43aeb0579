"""How fast a developer works at which temperature."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Protocol

from firmware_py.craft.coefficient import LARGEST_LN_PER_K
from firmware_py.craft.monotone import MonotoneCurve, monotone_curve
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import BeyondRange, Development

LOW_DEGC = 13.0  # below it hydroquinone practically stops (handbook, see the reference list)
HIGH_DEGC = 25.0  # gelatin softens and fog grows above it: common practice, no source


# The share of ln rate in doubt where nobody measured one's own: of metol-hydroquinone 1.9 (from memory) and
# 2.36 (Wall 1910) for 10 K are both told, and their logarithms are a quarter apart. Own estimate.
PRINTED_RATE_DOUBT = 0.25
# How much of the slope itself is in doubt outside the range that somebody tested, where gelatine softens and
# hydroquinone stops. Own judgement, no source.
OUTSIDE_SLOPE_DOUBT = 0.5
# Between ice and a bath in which no gelatine holds: common practice, no source.
COLDEST_BATH_DEGC, WARMEST_BATH_DEGC = 0.0, 60.0
# No reading stops a timer or sends it off: the rate stays within 1000 times of that at the reference.
_MOST_LN = math.log(1000.0)


class Rate(Protocol):
    """How fast development goes at a temperature, against the reference temperature. Source: own."""

    @property
    def beyond(self) -> BeyondRange:
        """Get what a running development does outside the range: go on by the law, or hold the edge."""

    @property
    def doubt_share(self) -> float:
        """Get the share of ln rate that is in doubt (about 19 times in 20 within it)."""

    @property
    def reference_degC(self) -> float:
        """Get the temperature [degC] at which the rate is 1."""

    @property
    def low_degC(self) -> float:
        """Get the lowest temperature [degC] the rate is known for."""

    @property
    def high_degC(self) -> float:
        """Get the highest temperature [degC] the rate is known for."""

    def rate(self, bath_degC: float) -> float:
        """Return the rate at ``bath_degC`` [degC], 1.0 at the reference; refuse outside low to high."""

    def ln_per_K(self, bath_degC: float) -> float:
        """Return the local slope of ln rate [1/K]; refuse outside low to high."""


@dataclass(frozen=True, slots=True)
class CoefficientRate:
    """A rate from one temperature coefficient, ``ln_per_K`` [1/K], valid from ``low_degC`` to ``high_degC``.

    Source: Ferguson & Howard 1905, for the exponential law; the default range: below 13 degC
    hydroquinone practically stops (handbook), above 25 degC common practice, no source.
    """

    slope_per_K: float
    reference_degC: float
    low_degC: float = LOW_DEGC
    high_degC: float = HIGH_DEGC
    beyond: BeyondRange = "law"
    doubt_share: float = 0.0

    def __post_init__(self) -> None:
        _check_range(self)
        if not 0 <= self.slope_per_K <= LARGEST_LN_PER_K:
            raise Refused(
                f"{self.slope_per_K:g} per K", where="coefficient", allowed=f"0 to {LARGEST_LN_PER_K}"
            )

    def rate(self, bath_degC: float) -> float:
        """Return exp(slope · (bath − reference)); refuse outside. Source: Ferguson & Howard 1905."""
        _check_inside(self, bath_degC)
        return math.exp(self.slope_per_K * (bath_degC - self.reference_degC))

    def ln_per_K(self, bath_degC: float) -> float:
        """Return the slope [1/K], the same everywhere; refuse outside the range. Source: definition."""
        _check_inside(self, bath_degC)
        return self.slope_per_K


@dataclass(frozen=True, slots=True)
class TableRate:
    """A rate from a published time-temperature table of (bath_degC, time_s), warmer baths quicker.

    Between the rows ln time is interpolated by a monotone cubic; it holds from the first row to the
    last, or from ``low_degC`` to ``high_degC`` inside them. Source: the table's own; the interpolation
    is Fritsch & Butland 1984.
    """

    points: tuple[tuple[float, float], ...]
    reference_degC: float
    low_degC: float = -math.inf
    high_degC: float = math.inf
    beyond: BeyondRange = "law"
    doubt_share: float = 0.0
    _curve: MonotoneCurve = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        rows = _checked_table(self.points)
        object.__setattr__(self, "low_degC", max(self.low_degC, rows[0][0]))
        object.__setattr__(self, "high_degC", min(self.high_degC, rows[-1][0]))
        object.__setattr__(
            self, "_curve", monotone_curve([(bath, math.log(time_s)) for bath, time_s in rows])
        )
        _check_range(self)

    def rate(self, bath_degC: float) -> float:
        """Return time at the reference over time here; refuse outside the range. Source: definition."""
        _check_inside(self, bath_degC)
        return math.exp(self._curve.at(self.reference_degC) - self._curve.at(bath_degC))

    def ln_per_K(self, bath_degC: float) -> float:
        """Return the table's slope of ln rate [1/K] there; refuse outside the range. Source: definition."""
        _check_inside(self, bath_degC)
        return -self._curve.slope_at(bath_degC)


def rate_of(development: Development) -> Rate:
    """Return the rate that a routine's development states, by coefficient or table. Source: the routine's."""
    given = development
    if (given.ln_per_K is None) == (not given.table):
        raise Refused("must say either a temperature coefficient or a table", where="development")
    bounds = (given.reference_degC, given.low_degC, given.high_degC, given.beyond, given.rate_doubt)
    if given.ln_per_K is not None:
        return CoefficientRate(given.ln_per_K, *bounds)
    return TableRate(given.table, *bounds)


def running_rate(rate: Rate, bath_degC: float) -> float:
    """Return the rate of a running development, which must never stop, at any temperature [degC].

    Outside the range ln rate goes on straight with the slope of the nearer end; a rate that holds its edge
    (a plan from before that was done) gives the edge's. Never more than 1000 times that at the reference,
    nor less than a thousandth. Refuses what is no number.
    Source: Ferguson & Howard 1905, for the exponential law; that it goes on: own.
    """
    return math.exp(min(max(_ln_rate(rate, bath_degC), -_MOST_LN), _MOST_LN))


def reckoned_rate(rate: Rate, bath_degC: float) -> float:
    """Return the rate at a bath's temperature [degC] that is asked for, by the same law as `running_rate`.

    Refuses a temperature at which no plate is developed, 0 to 60 degC, and what the law would make more than
    1000 times quicker or slower than at the reference: there no law can be trusted.
    Source: Ferguson & Howard 1905, for the exponential law; that it goes on, and its bounds: own.
    """
    if not COLDEST_BATH_DEGC <= bath_degC <= WARMEST_BATH_DEGC:
        allowed = f"{COLDEST_BATH_DEGC:g} to {WARMEST_BATH_DEGC:g} degC"
        raise Refused(f"no plate is developed at {bath_degC:.4g} degC", where="bath", allowed=allowed)
    ln = _ln_rate(rate, bath_degC)
    if abs(ln) > _MOST_LN:
        words = f"at {bath_degC:.4g} degC more than 1000 times the time, or less than a thousandth of it"
        raise Refused(words, where="bath", allowed=f"nearer to {rate.low_degC:g} to {rate.high_degC:g} degC")
    return math.exp(ln)


def _ln_rate(rate: Rate, bath_degC: float) -> float:
    """Return ln rate at any temperature [degC]: outside the range straight on, or the edge's where held."""
    edge_degC = nearest_tested(rate, bath_degC)
    ln = math.log(rate.rate(edge_degC))
    return ln + rate.ln_per_K(edge_degC) * (bath_degC - edge_degC) if rate.beyond == "law" else ln


def ln_rate_doubt(rate: Rate, bath_degC: float) -> float:
    """Return how far ln rate at ``bath_degC`` [degC] may be off because the law is; its sign is the law's.

    The stated share of ln rate, and outside the tested range half the slope for each kelvin beyond it (all
    of it where the edge's rate is held).
    Above 0 in warmth where a larger coefficient makes it quicker, below 0 in the cold. About 19 times in 20
    the truth lies within. Source: own.
    """
    edge_degC = nearest_tested(rate, bath_degC)
    share = OUTSIDE_SLOPE_DOUBT if rate.beyond == "law" else 1.0
    beyond = share * rate.ln_per_K(edge_degC) * (bath_degC - edge_degC)
    return rate.doubt_share * math.log(running_rate(rate, bath_degC)) + beyond


def outside_K(rate: Rate, bath_degC: float) -> float:
    """Return how far the bath is outside the tested range [K]: below 0 in the cold, 0 inside. Source: own."""
    return bath_degC - nearest_tested(rate, bath_degC)


def nearest_tested(rate: Rate, bath_degC: float) -> float:
    """Return the temperature [degC] inside the rate's range that is nearest to the bath's. Source: own."""
    if not math.isfinite(bath_degC):
        raise Refused(f"{bath_degC} is no temperature", where="bath")
    return min(max(bath_degC, rate.low_degC), rate.high_degC)


def _check_inside(rate: Rate, bath_degC: float) -> None:
    if not rate.low_degC <= bath_degC <= rate.high_degC:
        raise Refused(
            f"{bath_degC:.4g} degC is outside the range the rate is known for",
            where="bath",
            allowed=f"{rate.low_degC:g} to {rate.high_degC:g} degC",
        )


def _check_range(rate: Rate) -> None:
    if not rate.low_degC <= rate.reference_degC <= rate.high_degC:
        raise Refused(
            f"the reference temperature {rate.reference_degC:g} degC is outside the range",
            where="development",
            allowed=f"{rate.low_degC:g} to {rate.high_degC:g} degC",
        )


def _checked_table(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    rows = sorted(points)
    if len(rows) < 2:
        raise Refused("a time-temperature table needs two rows or more", where="table")
    if any(not (math.isfinite(bath) and math.isfinite(time_s) and time_s > 0) for bath, time_s in rows):
        raise Refused("every row needs a temperature and a time above 0 s", where="table")
    for (cool, longer_s), (warm, shorter_s) in pairwise(rows):
        if warm <= cool or shorter_s >= longer_s:
            raise Refused(
                f"{longer_s:g} s at {cool:g} degC, then {shorter_s:g} s at {warm:g} degC",
                where="table",
                allowed="each warmer row quicker than the last, no temperature twice",
            )
    return rows
