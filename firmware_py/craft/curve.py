"""The characteristic curve of a plate, from the densities that a step tablet left on it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from firmware_py.craft.monotone import MonotoneCurve, monotone_curve
from firmware_py.craft.refusal import Refused

Point = tuple[float, float]
Line = tuple[float, float, float, Sequence[Point]]

# A visual reading of a density is good to about this: common practice, no source.
STRAIGHT_TO = 0.02
# A run this much flatter than the steepest three steps, or with ends this much flatter than itself, reaches
# into toe or shoulder. Own judgement.
STEEP_ENOUGH = 0.85
ENDS_STEEP_ENOUGH = 0.9
ISO6_LOG_EXPOSURE = 1.30
ISO6_SPEED_POINT = 0.10


@dataclass(frozen=True, slots=True)
class StraightPart:
    """The straight part of a curve: its gamma, and where it lies on the scale of log10 exposure.

    ``inertia_log`` is where it would meet the density of fog. Source: F. Hurter and V. C. Driffield, as told
    by H. E. Ives, Airplane Photography, 1920, "Sensitometry".
    """

    gamma: float
    inertia_log: float
    from_log: float
    to_log: float
    misfit: float

    @property
    def inertia(self) -> float:
        """Get the inertia as an exposure, in the unit of the curve's exposures. Source: definition."""
        return math.pow(10, self.inertia_log)


@dataclass(frozen=True, slots=True)
class MeanGradient:
    """The mean gradient of ISO 6: from the speed point, 0.10 over fog, over 1.30 of log10 exposure.

    ``density_range`` is the rise there; the standard's condition of development is 0.80.
    Source: ISO 6:1993, as told in encyclopaedias (seen).
    """

    gradient: float
    density_range: float
    speed_point_log: float

    @property
    def speed(self) -> float:
        """Get the arithmetic index 0.8/Hm, Hm in lux-seconds; it is a speed only where the rise is 0.80.

        Source: ISO 6:1993, from memory.
        """
        return 0.8 / math.pow(10, self.speed_point_log)


def tablet_points(densities: Sequence[float], step_log: float, first_log: float = 0.0) -> tuple[Point, ...]:
    """Return the curve's points from densities in order of rising exposure, ``step_log`` apart.

    ``step_log`` is in log10 exposure (0.15 for a tablet of half stops), ``first_log`` the log10 exposure of
    the first; 5 densities or more, each 0 to 6. Source: definition of the step tablet.
    """
    if len(densities) < 5:
        raise Refused(f"{len(densities)} densities", where="densities", allowed="5 or more")
    if any(not 0 <= density <= 6 for density in densities):
        raise Refused("a density is out of range", where="densities", allowed="0 to 6")
    if not (0 < step_log <= 1 and math.isfinite(first_log)):
        raise Refused(f"steps of {step_log:g}", where="increment", allowed="above 0, to 1, in log10 exposure")
    return tuple((first_log + step_log * number, density) for number, density in enumerate(densities))


def straight_part(points: Sequence[Point], fog: float, *, straight_to: float = STRAIGHT_TO) -> StraightPart:
    """Return the longest run of points that lies on one steep line to within ``straight_to`` in density.

    Points of (log10 exposure, density), exposures rising; ``fog`` is the density of an unexposed part.
    Refuses a curve without three such points. Source: the straight part and its inertia are Hurter and
    Driffield's; how the run is chosen is own.
    """
    _check(points, fog)
    lines = [_line(run) for run in _runs(points)]
    steepest = max(slope for slope, _, _, run in lines if len(run) == 3)
    good = [
        line
        for line in lines
        if line[0] >= STEEP_ENOUGH * steepest and line[0] > 0 and line[2] <= straight_to and _ends_steep(line)
    ]
    if not good:
        raise Refused("no three steps lie on a straight line; give closer steps", where="curve")
    slope, height, misfit, run = max(good, key=lambda line: (line[3][-1][0] - line[3][0][0], line[0]))
    return StraightPart(slope, (fog - height) / slope, run[0][0], run[-1][0], misfit)


def mean_gradient(points: Sequence[Point], fog: float) -> MeanGradient:
    """Return the mean gradient by the condition of ISO 6.

    Points of (log10 exposure, density), exposures rising; refuses a curve that does not reach 0.10 over
    ``fog`` or ends before 1.30 of log10 exposure beyond it. Source: ISO 6:1993 (seen in encyclopaedias).
    """
    _check(points, fog)
    curve = monotone_curve(points)
    speed_point_log = _log_exposure_of(curve, fog + ISO6_SPEED_POINT)
    end_log = speed_point_log + ISO6_LOG_EXPOSURE
    if end_log > curve.xs[-1]:
        raise Refused(
            f"the curve ends at {curve.xs[-1]:.2f}, before {end_log:.2f}",
            where="curve",
            allowed="1.30 of log exposure beyond the point 0.10 over fog",
        )
    rise = curve.at(end_log) - curve.at(speed_point_log)
    return MeanGradient(rise / ISO6_LOG_EXPOSURE, rise, speed_point_log)


def _log_exposure_of(curve: MonotoneCurve, density: float) -> float:
    """Return the first log exposure at which the rising curve has ``density`` (bisection)."""
    for (left, below), (right, above) in pairwise(zip(curve.xs, curve.ys, strict=True)):
        if below <= density <= above:
            return _crossing(curve, density, left, right)
    raise Refused(f"the curve does not cross a density of {density:.2f}", where="curve")


def _crossing(curve: MonotoneCurve, density: float, low: float, high: float) -> float:
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if curve.at(middle) < density else (low, middle)
    return (low + high) / 2


def _runs(points: Sequence[Point]) -> Iterator[Sequence[Point]]:
    for first in range(len(points) - 2):
        for last in range(first + 3, len(points) + 1):
            yield points[first:last]


def _ends_steep(line: Line) -> bool:
    slope, _, _, run = line
    return min(_line(run[:3])[0], _line(run[-3:])[0]) >= ENDS_STEEP_ENOUGH * slope


def _line(run: Sequence[Point]) -> Line:
    """Return slope, height at 0, largest misfit of the line of least squares, and the run itself."""
    count = len(run)
    centre_x, centre_y = sum(x for x, _ in run) / count, sum(y for _, y in run) / count
    slope = sum((x - centre_x) * (y - centre_y) for x, y in run) / sum((x - centre_x) ** 2 for x, _ in run)
    height = centre_y - slope * centre_x
    return slope, height, max(abs(y - height - slope * x) for x, y in run), run


def _check(points: Sequence[Point], fog: float) -> None:
    if len(points) < 3:
        raise Refused(f"a curve of {len(points)} points", where="curve", allowed="3 or more")
    if any(not (math.isfinite(x) and math.isfinite(y)) for x, y in points):
        raise Refused("a point is no number", where="curve")
    if any(b[0] <= a[0] for a, b in pairwise(points)):
        raise Refused("the exposures do not rise from point to point", where="curve")
    if not 0 <= fog <= max(y for _, y in points):
        raise Refused(f"a fog of {fog:g}", where="fog", allowed="0 to the largest density")
