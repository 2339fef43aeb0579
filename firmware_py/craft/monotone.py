"""A smooth curve through measured points that never turns where the points do not."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from firmware_py.craft.refusal import Refused


@dataclass(frozen=True, slots=True)
class MonotoneCurve:
    """A piecewise cubic through ``xs``, ``ys`` that rises or falls only where the points do.

    ``slopes`` are the derivatives at the points. It holds from the first to the last of ``xs`` and
    refuses outside. Made by `monotone_curve`.
    Source: F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) p. 300, after F. N. Fritsch
    and R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) p. 238; checked against scipy's PchipInterpolator.
    """

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    slopes: tuple[float, ...]

    def at(self, x: float) -> float:
        """Return the curve's height at ``x``. Source: cubic Hermite form."""
        step, left, u = self._place(x)
        y0, y1 = self.ys[left], self.ys[left + 1]
        d0, d1 = self.slopes[left] * step, self.slopes[left + 1] * step
        rise = y1 - y0
        return y0 + u * (d0 + u * (3 * rise - 2 * d0 - d1 + u * (d0 + d1 - 2 * rise)))

    def slope_at(self, x: float) -> float:
        """Return the curve's slope at ``x``. Source: cubic Hermite form."""
        step, left, u = self._place(x)
        d0, d1 = self.slopes[left], self.slopes[left + 1]
        rise = (self.ys[left + 1] - self.ys[left]) / step
        return d0 + u * (2 * (3 * rise - 2 * d0 - d1) + 3 * u * (d0 + d1 - 2 * rise))

    def _place(self, x: float) -> tuple[float, int, float]:
        """Return the width of the piece that holds ``x``, its number, and the place in it from 0 to 1."""
        if not self.xs[0] <= x <= self.xs[-1]:
            raise Refused(
                f"{x:.6g} is outside the measured points",
                where="curve",
                allowed=f"{self.xs[0]:.6g} to {self.xs[-1]:.6g}",
            )
        left = min(bisect_right(self.xs, x), len(self.xs) - 1) - 1
        step = self.xs[left + 1] - self.xs[left]
        return step, left, (x - self.xs[left]) / step


def monotone_curve(points: Sequence[tuple[float, float]]) -> MonotoneCurve:
    """Return the monotone curve through ``points`` (x rising; two or more).

    Source: Fritsch & Butland 1984 (slopes inside), the three-point end formula of the same authors.
    """
    xs, ys = tuple(x for x, _ in points), tuple(y for _, y in points)
    if len(xs) < 2 or any(b <= a for a, b in pairwise(xs)):
        raise Refused("a curve needs two points or more, each further on than the last", where="curve")
    steps = [b - a for a, b in pairwise(xs)]
    rises = [(b - a) / step for (a, b), step in zip(pairwise(ys), steps, strict=True)]
    if len(steps) == 1:
        return MonotoneCurve(xs, ys, (rises[0], rises[0]))
    inside = [_inner(*pair) for pair in zip(steps, steps[1:], rises, rises[1:], strict=False)]
    first = _end(steps[0], steps[1], rises[0], rises[1])
    last = _end(steps[-1], steps[-2], rises[-1], rises[-2])
    return MonotoneCurve(xs, ys, (first, *inside, last))


def _inner(step: float, next_step: float, rise: float, next_rise: float) -> float:
    """Return the slope at a point between two pieces: their weighted harmonic mean, 0 at a turn."""
    if rise * next_rise <= 0:
        return 0.0
    weight, next_weight = 2 * next_step + step, next_step + 2 * step
    return (weight + next_weight) / (weight / rise + next_weight / next_rise)


def _end(step: float, next_step: float, rise: float, next_rise: float) -> float:
    """Return the slope at an end: the parabola's, held so that the end piece does not turn."""
    slope = ((2 * step + next_step) * rise - step * next_rise) / (step + next_step)
    if slope * rise <= 0:
        return 0.0
    if rise * next_rise < 0 and abs(slope) > 3 * abs(rise):
        return 3 * rise
    return slope
