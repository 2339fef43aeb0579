"""The shape of a belief by least squares: the likeliest constants of a box, and how they hang together."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from firmware_py.craft.emulsion import LIGHT, LIGHT_LN, NUMBERS, Prior, Theta, theta_of
from firmware_py.craft.expecting import MOST_ERRORS, Row, misses
from firmware_py.craft.laws import WIDER, Law, Triangle, Vector, cholesky, dot, inverse_of, law
from firmware_py.craft.plate_facts import PlateFacts

PASSES = 5
STARTS = (0.0, -1.4, 1.4)  # of the speed, in standard deviations: a dense plate may be straight or shoulder
FEW = 8  # plates, beyond which all starts lead to one place: own
STEP = 0.02  # of the differences that slopes are taken by
LONGEST = 1.5  # standard deviations that one pass may move a number by
MOST_LIGHT = 3.0  # [stops]


@dataclass(frozen=True, slots=True)
class Fit:
    """A normal law found by least squares, with what it leaves over.

    ``cost`` is the sum of all squared misses in errors, of ``rows`` things seen, with what the constants and
    the lights stray from the usual; ``ln_evidence`` the ln of how likely the evidence was, but for what does
    not depend on how plates are put together. Source: P.-S. Laplace's method.
    """

    law: Law
    cost: float
    rows: int
    ln_evidence: float


def first_fits(facts: Sequence[PlateFacts], prior: Prior) -> list[Fit]:
    """Return the normal laws that least squares find from each start, those alike once.

    Source: Gauss and Newton's steps on the posterior, each plate's light a number of its own that is
    eliminated; a miss beyond some errors counts less (P. J. Huber).
    """
    fits: list[Fit] = []
    for start in STARTS if len(facts) <= FEW else STARTS[:1]:
        found = fit(facts, prior, start)
        if not any(_alike(found.law, known.law) for known in fits):
            fits.append(found)
    return fits


def _alike(one: Law, other: Law) -> bool:
    return all(abs(one.middle[n] - other.middle[n]) < 0.3 for n in (0, 1, 6))


@dataclass(slots=True)
class _Equations:
    """The normal equations: their matrix, their right side, and how each plate's light follows from them."""

    precision: Triangle = field(default_factory=lambda: [[0.0] * row + [1.0] for row in range(NUMBERS)])
    pull: Vector = field(default_factory=lambda: [0.0] * NUMBERS)
    cost: float = 0.0
    rows: int = 0
    lights: list[tuple[float, Vector]] = field(default_factory=list)
    light_pull: float = 0.0
    light_known: float = 0.0

    def solved(self) -> tuple[Vector, Triangle]:
        """Return the solution, and the inverse of the matrix's triangle."""
        inverse = inverse_of(cholesky(self.precision))
        half = [dot(row, self.pull) for row in inverse]
        whole = [sum(inverse[row][n] * half[row] for row in range(n, NUMBERS)) for n in range(NUMBERS)]
        return whole, inverse

    def add_light_error(self, z: float) -> None:
        """Add what the plates' lights together tell of how well light is estimated: a step of Newton's.

        The ln likelihood of lights under a normal law of unknown width, each light with its own doubt.
        """
        weight = LIGHT_LN**2 * 2 * self.light_known
        self.precision[LIGHT][LIGHT] += weight
        self.pull[LIGHT] += weight * z + LIGHT_LN * self.light_pull

    def add(self, weight: float, slope: Vector, wanted: float) -> None:
        """Add ``weight`` times the square of (slope · numbers - wanted)."""
        for i, a in enumerate(slope):
            if a:
                scaled = weight * a
                self.pull[i] += scaled * wanted
                line = self.precision[i]
                for j in range(i + 1):
                    line[j] += scaled * slope[j]


def fit(facts: Sequence[PlateFacts], prior: Prior, start: float = 0.0) -> Fit:
    """Return the normal law that least squares find from a start of the speed. Source: as `first_fits`."""
    middle = [0.0] * NUMBERS
    middle[0] = start
    lights = [0.0] * len(facts)
    inverse: Triangle = []
    cost, rows = 0.0, 0
    for _ in range(PASSES):
        equations = _linearised(facts, prior, middle, lights)
        cost, rows = equations.cost + dot(middle, middle), equations.rows
        equations.add_light_error(middle[LIGHT])
        whole, inverse = equations.solved()
        step = [new - old for new, old in zip(whole, middle, strict=True)]
        shorter = max(1.0, max(map(abs, step)) / LONGEST)
        middle = [old + part / shorter for old, part in zip(middle, step, strict=True)]
        lights = [
            max(-MOST_LIGHT, min(MOST_LIGHT, base + dot(slope, middle))) for base, slope in equations.lights
        ]
    spread = [
        [WIDER**2 * sum(inverse[row][i] * inverse[row][j] for row in range(i, NUMBERS)) for j in range(i + 1)]
        for i in range(NUMBERS)
    ]
    corners = sum(math.log(row[-1]) for row in inverse)
    return Fit(law(middle, cholesky(spread)), cost, rows, corners - 0.5 * cost)


def _linearised(facts: Sequence[PlateFacts], prior: Prior, middle: Vector, lights: Vector) -> _Equations:
    """Return the normal equations of all plates, straightened at these numbers and lights."""
    equations = _Equations()
    here = theta_of(middle, prior)
    beside = []
    for n in range(NUMBERS):
        moved = middle.copy()
        moved[n] += STEP
        beside.append(theta_of(moved, prior))
    for plate, light in zip(facts, lights, strict=True):
        equations.lights.append(
            _add_plate(equations, _Straight.of(plate, here, beside, light), middle, light)
        )
    return equations


@dataclass(frozen=True, slots=True)
class _Straight:
    """A plate's misses with their slopes by each number and by its light."""

    weighs: float
    light_doubt: float
    rows: list[Row]
    slopes: list[Vector]
    light_slopes: Vector

    @classmethod
    def of(cls, plate: PlateFacts, here: Theta, beside: Sequence[Theta], light: float) -> _Straight:
        rows = misses(plate, here, light)
        moved = [misses(plate, theta, light) for theta in beside]
        brighter = misses(plate, here, light + STEP)
        places = range(len(rows))
        slopes = [[(other[n][0] - rows[n][0]) / STEP for other in moved] for n in places]
        by_light = [(brighter[n][0] - rows[n][0]) / STEP for n in places]
        return cls(plate.weighs, plate.light * here[11], rows, slopes, by_light)


def _add_plate(equations: _Equations, plate: _Straight, middle: Vector, light: float) -> tuple[float, Vector]:
    """Add a plate, its light eliminated; return how its light follows from the solution."""
    light_precision, light_pull = 1 / plate.light_doubt**2, 0.0
    equations.cost += light_precision * light**2
    equations.rows += len(plate.rows)
    cross = [0.0] * NUMBERS
    for (miss, error), slope, by_light in zip(plate.rows, plate.slopes, plate.light_slopes, strict=True):
        weight = plate.weighs / error**2 * min(1.0, MOST_ERRORS * error / max(abs(miss), 1e-9))
        equations.cost += weight * miss**2
        wanted = dot(slope, middle) + by_light * light - miss
        equations.add(weight, slope, wanted)
        light_precision += weight * by_light**2
        light_pull += weight * by_light * wanted
        cross = [c + weight * by_light * a for c, a in zip(cross, slope, strict=True)]
    equations.add(-1 / light_precision, cross, light_pull)
    left = plate.light_doubt**-2 / light_precision
    equations.light_pull += (light / plate.light_doubt) ** 2 + left - 1
    equations.light_known += (1 - left) ** 2
    return light_pull / light_precision, [-c / light_precision for c in cross]
