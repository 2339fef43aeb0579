"""What a printing paper can take: its range and grade, the negative that suits it, burns and speed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType
from typing import Literal

from firmware_py.craft.limits import above_zero, finite, not_negative, within
from firmware_py.craft.refusal import Refused

HIGHLIGHT_ABOVE_FOG = 0.04  # ISO 6846, as told in the Focal Encyclopedia, 4th ed., p. 679
SHADOW_PART_OF_DMAX = 0.90  # same

# grade -> log exposure range, lower end included. Source: ANSI PH2.2-1966 has six grades from 0.50 to 1.70;
# the bounds between them are from memory, so every call takes the user's own table instead.
GRADES: Mapping[int, tuple[float, float]] = MappingProxyType(
    {
        0: (1.40, 1.70),
        1: (1.15, 1.40),
        2: (0.95, 1.15),
        3: (0.80, 0.95),
        4: (0.65, 0.80),
        5: (0.50, 0.65),
    }
)

# How far the negative may be from the paper before the print is called hard or soft. Source: own.
NEAR_ENOUGH = 0.10

MOST_BURN_STOPS = 6.0  # own


@dataclass(frozen=True, slots=True)
class IsoPoints:
    """The two ends of what a paper can show: densities, and the log10 exposures that give them.

    Source: ISO 6846, as `iso_points`.
    """

    highlight_density: float
    shadow_density: float
    highlight_log: float
    shadow_log: float

    @property
    def log_range(self) -> float:
        """Get the useful range as a difference of log10 exposures. Source: ISO 6846, as `iso_points`."""
        return self.shadow_log - self.highlight_log

    @property
    def iso_range(self) -> int:
        """Get the ISO range: 100 times the log range, to the nearest 10 (the rounding is from memory)."""
        return 10 * math.floor(10 * self.log_range + 0.5)


def iso_points(
    curve: Sequence[tuple[float, float]], *, base_fog: float | None = None, dmax: float | None = None
) -> IsoPoints:
    """Find the highlight and shadow points of a paper's measured curve.

    Parameters: ``curve``, at least three (log10 exposure, density) points, exposures rising; ``base_fog`` and
    ``dmax``, densities read from unexposed and fully exposed paper, else the least and the largest of the
    curve. Both ends count from zero, base and fog included, the shadow as 90 % of that D-max.
    Raises `Refused` for a curve out of order and for a point that it does not cross just once.
    Source: ISO 6846 (0.04 above base and fog; 90 % of D-max), as told in the Focal
    Encyclopedia, 4th ed., p. 679.
    """
    _checked(curve)
    fog = not_negative("base and fog", min(density for _, density in curve) if base_fog is None else base_fog)
    black = above_zero("D-max", max(density for _, density in curve) if dmax is None else dmax)
    highlight, shadow = fog + HIGHLIGHT_ABOVE_FOG, SHADOW_PART_OF_DMAX * black
    if shadow <= highlight:
        raise Refused(
            f"D-max {black:g} over a fog of {fog:g}",
            where="paper curve",
            allowed="a D-max well above the fog",
        )
    return IsoPoints(highlight, shadow, log_exposure_at(curve, highlight), log_exposure_at(curve, shadow))


def log_exposure_at(curve: Sequence[tuple[float, float]], density: float) -> float:
    """Return the log10 exposure that gives ``density``, on straight lines between the points of ``curve``.

    Raises `Refused` where the curve does not rise through that density, or does so more than once.
    Source: linear interpolation.
    """
    _checked(curve)
    crossings = [
        early + (later - early) * (density - less) / (more - less)
        for (early, less), (later, more) in pairwise(curve)
        if less < density <= more
    ]
    if len(crossings) != 1:
        found = "never" if not crossings else f"{len(crossings)} times"
        raise Refused(
            f"the curve rises {found} through density {density:.3f}",
            where="paper curve",
            allowed="points on both sides of it, rising",
        )
    return crossings[0]


def log_range_by_eye(first_tone_density: float, full_black_density: float) -> float:
    """Return a paper's range from a contact print of a step wedge, judged without a densitometer.

    Parameters: densities of the wedge under the first just visible tone and under the first full black.
    Raises `Refused` unless 0 <= full black < first tone. Source: common practice, no source.
    """
    not_negative("wedge density under full black", full_black_density)
    finite("wedge density under the first tone", first_tone_density)
    if first_tone_density <= full_black_density:
        raise Refused(
            f"first tone under {first_tone_density:g}, full black under {full_black_density:g}",
            where="step wedge",
            allowed="the denser step under the first tone",
        )
    return first_tone_density - full_black_density


def grade_of(log_range: float, grades: Mapping[int, tuple[float, float]] = GRADES) -> int:
    """Return the grade whose bounds hold ``log_range``; a bound between two belongs to the softer one.

    Raises `Refused` outside all of them. Source: ANSI PH2.2-1966, the inner bounds from memory.
    """
    inside = [grade for grade, (low, high) in grades.items() if low <= log_range <= high]
    if not inside:
        least, most = min(low for low, _ in grades.values()), max(high for _, high in grades.values())
        raise Refused(f"a log range of {log_range:g}", where="grade", allowed=f"{least:g} to {most:g}")
    return max(inside, key=lambda grade: grades[grade][0])


def printing_range(visual_range: float, stain_ratio: float = 1.0) -> float:
    """Return the density range that the paper sees, of a negative whose image is stained.

    Parameters: ``visual_range`` >= 0 as read by eye or in yellow light; ``stain_ratio`` 1 to 4, printing to
    visual density. Raises `Refused` outside.
    Source: H. E. Ives, *Airplane Photography*, 1920 (1.16 to 2.75 for pyro, against sulphite).
    """
    return not_negative("density range", visual_range) * within("stain ratio", stain_ratio, 1.0, 4.0)


@dataclass(frozen=True, slots=True)
class Fit:
    """How a negative fits a paper: densities too many or too few, and by what to multiply its gamma.

    Source: as `fit`.
    """

    excess: float
    gamma_times: float
    verdict: Literal["suits", "too hard", "too soft"]


def fit(negative_range: float, paper_log_range: float, near_enough: float = NEAR_ENOUGH) -> Fit:
    """Compare the printing density range of a negative with the log range of a paper.

    *too hard*: the negative holds more than the paper can show. Both ranges above 0; `Refused` otherwise.
    Source: ISO 6846, introduction: good prints come when the two are equal; ``near_enough`` is own.
    """
    above_zero("negative's range", negative_range)
    above_zero("paper's range", paper_log_range)
    excess = negative_range - paper_log_range
    # A hair of slack, so that 1.15 against 1.05 is near enough although floats say 0.10000000000000009.
    if abs(excess) <= not_negative("near enough", near_enough) + 1e-9:
        return Fit(excess, paper_log_range / negative_range, "suits")
    return Fit(excess, paper_log_range / negative_range, "too hard" if excess > 0 else "too soft")


def burn_s(base_s: float, stops: float) -> float:
    """Return the extra time [s] that darkens a part of the print by ``stops`` over its base exposure.

    Parameters: base above 0 [s]; above 0 to 6 [stops]. Raises `Refused` outside.
    Source: a stop is a factor of two: base · (2^stops - 1).
    """
    above_zero("base, s", base_s)
    within("burn, stops", above_zero("burn, stops", stops), 0.0, MOST_BURN_STOPS)
    return base_s * math.expm1(stops * math.log(2.0))


def dodge_s(base_s: float, stops: float) -> float:
    """Return for how long [s] of the base exposure a part is shaded, to be lighter by ``stops``.

    Parameters: base above 0 [s]; above 0 to 6 [stops]. Raises `Refused` outside.
    Source: a stop is a factor of two: base · (1 - 2^-stops).
    """
    above_zero("base, s", base_s)
    within("dodge, stops", above_zero("dodge, stops", stops), 0.0, MOST_BURN_STOPS)
    return -base_s * math.expm1(-stops * math.log(2.0))


def time_on_other_paper_s(time_s: float, from_speed: float, to_speed: float) -> float:
    """Return the time [s] on a paper of ``to_speed`` for what took ``time_s`` [s] on one of ``from_speed``.

    The two speeds must be of one scale, all above 0; `Refused` otherwise.
    Source: speed is inverse to exposure in every arithmetical scale, ISO 6846 among them; common practice.
    """
    above_zero("time, s", time_s)
    return (
        time_s * above_zero("first paper's speed", from_speed) / above_zero("other paper's speed", to_speed)
    )


def _checked(curve: Sequence[tuple[float, float]]) -> None:
    if len(curve) < 3:
        raise Refused(f"{len(curve)} points", where="paper curve", allowed="at least three points")
    for log_exposure, density in curve:
        finite("paper curve, log exposure", log_exposure)
        not_negative("paper curve, density", density)
    for (early, _), (later, _) in pairwise(curve):
        if later <= early:
            raise Refused(f"{later:g} after {early:g}", where="paper curve", allowed="rising log exposures")
