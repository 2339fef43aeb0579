"""How contrast grows with development, and the time for the contrast that is wanted."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from firmware_py.craft.refusal import Refused
from firmware_py.craft.search import golden_section
from firmware_py.craft.units import read_number

LARGEST_GAMMA = 6.0
SLOWEST_PER_MIN, QUICKEST_PER_MIN = 1e-3, 30.0
# How well a gamma is known from a visual reading of a step tablet: common practice, no source.
USUAL_GAMMA_DOUBT = 0.03
NO_END = "the points show no end value of the contrast; measure at shorter and longer times"

_CONSTANT = re.compile(r"\s*([^/a-z ]+)\s*(ln|log10|log)?\s*(?:/|per)\s*(min|s)\s*")
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Growth:
    """The growth of contrast: gamma = gamma_inf (1 − exp(−k t)), t in equivalent minutes.

    ``k_per_min`` [1/min] is to the natural base. gamma_inf above 0 to 6, k from 0.001 to 30.
    Source: F. Hurter and V. C. Driffield; C. E. K. Mees, Jahrbuch für Photographie 25 (1911) p. 170.
    """

    gamma_inf: float
    k_per_min: float

    def __post_init__(self) -> None:
        if not 0 < self.gamma_inf <= LARGEST_GAMMA:
            raise Refused(f"{self.gamma_inf:g}", where="gamma_inf", allowed=f"above 0, to {LARGEST_GAMMA:g}")
        if not SLOWEST_PER_MIN <= self.k_per_min <= QUICKEST_PER_MIN:
            allowed = f"{SLOWEST_PER_MIN:g} to {QUICKEST_PER_MIN:g} per min, natural base"
            raise Refused(f"{self.k_per_min:g} per min", where="k", allowed=allowed)

    def gamma_at(self, time_s: float) -> float:
        """Return the gamma after ``time_s`` [s] of equivalent time, 0 or more. Source: Mees 1911."""
        if not (math.isfinite(time_s) and time_s >= 0):
            raise Refused(f"{time_s:g} s", where="time", allowed="0 s or more")
        return -self.gamma_inf * math.expm1(-self.k_per_min * time_s / 60)

    def time_for(self, gamma: float) -> float:
        """Return the equivalent time [s] for ``gamma``; refuse one never reached. Source: Mees 1911."""
        if not 0 <= gamma < self.gamma_inf:
            allowed = f"0 to less than {self.gamma_inf:.3g}, all that this plate and developer give"
            raise Refused(f"a gamma of {gamma:g}", where="want", allowed=allowed)
        return -60 * math.log1p(-gamma / self.gamma_inf) / self.k_per_min


@dataclass(frozen=True, slots=True)
class MeasuredGrowth:
    """A growth fitted to measured points, with standard uncertainties and the covariance of the two.

    ``misfit`` is the root mean square of what is left, 0 for two points. Source: least squares.
    """

    growth: Growth
    gamma_inf_doubt: float
    k_doubt_per_min: float
    covariance: float
    misfit: float

    def time_doubt_s(self, gamma: float) -> float:
        """Return the standard uncertainty [s] of the time for ``gamma``. Source: propagation of errors."""
        time_min = self.growth.time_for(gamma) / 60
        gamma_inf, k = self.growth.gamma_inf, self.growth.k_per_min
        by_gamma_inf = -gamma / (k * gamma_inf * (gamma_inf - gamma))
        by_k = -time_min / k
        variance = (
            (by_gamma_inf * self.gamma_inf_doubt) ** 2
            + (by_k * self.k_doubt_per_min) ** 2
            + 2 * by_gamma_inf * by_k * self.covariance
        )
        return 60 * math.sqrt(max(0.0, variance))


def fit_growth(points: Sequence[Point], *, gamma_doubt: float = USUAL_GAMMA_DOUBT) -> MeasuredGrowth:
    """Return the growth that fits measured points of (time_s, gamma), two or more, by least squares.

    Times are equivalent times [s]. From three points on, the scatter of the points themselves gives the
    uncertainty; from two, ``gamma_doubt``. Refuses gammas that do not rise, or that rise in proportion to
    time or faster: those have no end value.
    Source: least squares, checked against scipy's curve_fit; the law is Hurter & Driffield's.
    """
    ordered = sorted(points)
    _check_points(ordered)
    near = _least(lambda k: _misfit(ordered, k), SLOWEST_PER_MIN, QUICKEST_PER_MIN)
    growth = _polished(ordered, _growth(_end_value(ordered, near), near))
    k_per_min = growth.k_per_min
    square = _misfit(ordered, k_per_min)
    freedom = len(ordered) - 2
    variance = square / freedom if freedom else gamma_doubt**2
    return _measured(ordered, growth, variance, math.sqrt(square / len(ordered)) if freedom else 0.0)


def gamma_for_ranges(density_range: float, exposure_range: float) -> float:
    """Return the gamma that turns a range of log exposure into a wanted range of density.

    Both in log10 units, above 0 to 4; for the mean gradient of the scale in use. Source: definition of the
    mean gradient; that the paper's range should equal the negative's is ISO 6846, introduction.
    """
    for name, value in (("density range", density_range), ("exposure range", exposure_range)):
        if not 0 < value <= 4:
            raise Refused(f"a {name} of {value:g}", where="range", allowed="above 0, to 4, in log10 units")
    gamma = density_range / exposure_range
    if gamma > LARGEST_GAMMA:
        raise Refused(
            f"a gamma of {gamma:.3g} would be needed", where="range", allowed=f"to {LARGEST_GAMMA:g}"
        )
    return gamma


def read_growth_constant(text: str, *, where: str) -> float:
    """Read a constant of growth and return it per minute to the natural base [1/min].

    "0.320ln/min", "0.400log10/min", "0.005ln/s". A constant that does not say its base is refused: H. E.
    Ives' 0.400 (Airplane Photography, 1920) only fits his own text to base 10. Source: definitions.
    """
    found = _CONSTANT.fullmatch(text[:40])
    if found is None or found[2] is None:
        shown = "".join(sign if sign.isprintable() else "?" for sign in text)[:40]
        raise Refused(
            f'"{shown}" does not say its base and its unit',
            where=where,
            allowed='"0.32ln/min" or "0.14log10/min"',
        )
    base = 1.0 if found[2] == "ln" else math.log(10)
    return read_number(found[1], where=where, low=0) * base * (60 if found[3] == "s" else 1)


def _check_points(points: Sequence[Point]) -> None:
    if len({time_s for time_s, _ in points}) < 2:
        raise Refused("one time tells no growth", where="points", allowed="points at two times or more")
    if any(not (math.isfinite(t) and math.isfinite(gamma) and t > 0 and gamma > 0) for t, gamma in points):
        raise Refused("every point needs a time and a gamma above 0", where="points")
    (first_s, first), (last_s, last) = points[0], points[-1]
    if last <= first:
        raise Refused(
            f"gamma {last:g} at {last_s:g} s is not above {first:g} at {first_s:g} s: contrast is full,"
            " or the points are mixed up",
            where="points",
        )
    # The law is concave: later pieces are flatter. With more than two points noise may hide it; then the
    # fit runs to its bound and is refused there.
    if len(points) == 2 and last / last_s >= first / first_s:
        raise Refused(
            f"gamma {last:g} at {last_s:g} s is no less than in proportion to {first:g} at {first_s:g} s,"
            " so it shows no end value; develop the second plate longer",
            where="points",
        )


def _growth(gamma_inf: float, k_per_min: float) -> Growth:
    inside = SLOWEST_PER_MIN * 1.01 < k_per_min < QUICKEST_PER_MIN / 1.01
    if not inside or not 0 < gamma_inf <= LARGEST_GAMMA:
        raise Refused(NO_END, where="points")
    return Growth(gamma_inf, k_per_min)


def _share(time_s: float, k_per_min: float) -> float:
    return -math.expm1(-k_per_min * time_s / 60)


def _end_value(points: Sequence[Point], k_per_min: float) -> float:
    """Return the best gamma_inf for a given k: the fit is straight in it."""
    over = sum(gamma * _share(t, k_per_min) for t, gamma in points)
    return over / sum(_share(t, k_per_min) ** 2 for t, _ in points)


def _misfit(points: Sequence[Point], k_per_min: float) -> float:
    end = _end_value(points, k_per_min)
    return sum((gamma - end * _share(t, k_per_min)) ** 2 for t, gamma in points)


def _least(cost: Callable[[float], float], low: float, high: float) -> float:
    """Return where ``cost`` is least, on a scale of ratios: a coarse walk, then the golden section."""
    steps = 120
    ratio = (high / low) ** (1 / steps)
    best = min(range(steps + 1), key=lambda step: cost(low * ratio**step))
    left, right = math.log(low) + (best - 1) * math.log(ratio), math.log(low) + (best + 1) * math.log(ratio)
    found = golden_section(lambda ln: cost(math.exp(ln)), left, right, within=1e-9)
    return min(max(math.exp(found), low), high)


def _slopes(points: Sequence[Point], growth: Growth) -> tuple[list[float], list[float]]:
    """Return the slopes of every point's gamma against gamma_inf and against k."""
    by_end = [_share(t, growth.k_per_min) for t, _ in points]
    by_k = [growth.gamma_inf * t / 60 * math.exp(-growth.k_per_min * t / 60) for t, _ in points]
    return by_end, by_k


def _polished(points: Sequence[Point], growth: Growth) -> Growth:
    """Return the growth after a few steps of Gauss and Newton, to the last figures."""
    for _ in range(6):
        by_end, by_k = _slopes(points, growth)
        left = [gamma - growth.gamma_inf * share for (_, gamma), share in zip(points, by_end, strict=True)]
        end_end, k_k, end_k = _dot(by_end, by_end), _dot(by_k, by_k), _dot(by_end, by_k)
        bottom = end_end * k_k - end_k**2
        if bottom <= 1e-12 * end_end * k_k:
            raise Refused(NO_END, where="points")
        end_left, k_left = _dot(by_end, left), _dot(by_k, left)
        growth = _growth(
            growth.gamma_inf + (k_k * end_left - end_k * k_left) / bottom,
            growth.k_per_min + (end_end * k_left - end_k * end_left) / bottom,
        )
    return growth


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return math.fsum(a * b for a, b in zip(one, other, strict=True))


def _measured(points: Sequence[Point], growth: Growth, variance: float, misfit: float) -> MeasuredGrowth:
    """Return the growth with the covariance of its two numbers: variance · (JᵀJ)⁻¹."""
    by_end, by_k = _slopes(points, growth)
    end_end, k_k, end_k = _dot(by_end, by_end), _dot(by_k, by_k), _dot(by_end, by_k)
    bottom = end_end * k_k - end_k**2
    gamma_inf_doubt, k_doubt = math.sqrt(variance * k_k / bottom), math.sqrt(variance * end_end / bottom)
    return MeasuredGrowth(growth, gamma_inf_doubt, k_doubt, -variance * end_k / bottom, misfit)
