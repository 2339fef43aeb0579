"""A normal law of many numbers, and the little linear algebra that it needs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import mul, sub
from random import Random

Vector = list[float]
Triangle = list[Vector]
LN_2PI = math.log(2 * math.pi)
WIDER = 1.12  # than a fit, so that no tail is missed: own


def dot(one: Sequence[float], other: Sequence[float]) -> float:
    """Return the sum of products, as far as the shorter goes. Source: definition."""
    total: float = sum(map(mul, one, other))
    return total


@dataclass(frozen=True, slots=True)
class Law:
    """A normal law: its middle, the lower triangle of its spread with its inverse, and ln of its height.

    Made by `law`. Source: definition.
    """

    middle: Vector
    lower: Triangle
    inverse: Triangle
    ln_top: float

    def place(self, normal: Sequence[float]) -> Vector:
        """Return the place that standard normal numbers mean. Source: definition."""
        rows = zip(self.middle, self.lower, strict=True)
        return [mid + dot(row, normal) for mid, row in rows]

    def ln_density(self, z: Sequence[float]) -> float:
        """Return the ln of the density at ``z``. Source: definition."""
        off = list(map(sub, z, self.middle))
        parts = [dot(row, off) for row in self.inverse]
        return self.ln_top - 0.5 * dot(parts, parts)


def law(middle: Vector, lower: Triangle) -> Law:
    """Return the normal law with this middle and lower triangle. Source: definition."""
    corners = math.fsum(math.log(row[-1]) for row in lower)
    return Law(middle, lower, inverse_of(lower), -corners - 0.5 * len(middle) * LN_2PI)


@lru_cache(maxsize=16)
def normal_numbers(count: int, seed: int, dimension: int = 12) -> tuple[tuple[float, ...], ...]:
    """Return ``count`` vectors of standard normal numbers, every second the mirror of the one before.

    Source: the standard library's generator, from a fixed seed.
    """
    random = Random(seed)  # noqa: S311 - the same numbers every time are what is wanted
    found: list[tuple[float, ...]] = []
    while len(found) < count:
        vector = tuple(random.gauss(0.0, 1.0) for _ in range(dimension))
        found += [vector, tuple(-v for v in vector)]
    return tuple(found[:count])


def effective(weights: Sequence[float]) -> float:
    """Return of how many equal samples these weights are worth. Source: L. Kish, from memory."""
    square = math.fsum(weight * weight for weight in weights)
    return math.fsum(weights) ** 2 / square if square > 0 else 0.0


def law_of(places: Sequence[Sequence[float]], shares: Sequence[float]) -> Law:
    """Return the law with the mean and spread of weighted places; slants that few places show are reduced.

    Source: moments; shrinking slants is usual practice.
    """
    total = math.fsum(shares)
    keep = 1 - min(0.7, 10.0 / effective(shares))
    columns = list(zip(*places, strict=True))
    middle = [dot(shares, column) / total for column in columns]
    off = [[v - mid for v in column] for column, mid in zip(columns, middle, strict=True)]
    weighted = [[w * v / total for w, v in zip(shares, column, strict=True)] for column in off]
    spread = [
        [dot(weighted[i], off[j]) * (keep if i != j else 1.0) * WIDER**2 for j in range(i + 1)]
        for i in range(len(columns))
    ]
    return law(middle, cholesky(spread))


def cholesky(square: Triangle) -> Triangle:
    """Return the lower triangle whose square is this one (lower half given); too small pivots are raised.

    Source: A.-L. Cholesky's decomposition.
    """
    lower: Triangle = []
    for i, given in enumerate(square):
        row: Vector = []
        for j in range(i):
            row.append((given[j] - dot(row, lower[j])) / lower[j][j])
        row.append(math.sqrt(max(given[i] - sum(v * v for v in row), 1e-6)))
        lower.append(row)
    return lower


def inverse_of(lower: Triangle) -> Triangle:
    """Return the inverse of a lower triangle. Source: forward substitution."""
    count = len(lower)
    found = [[0.0] * (row + 1) for row in range(count)]
    for column in range(count):
        found[column][column] = 1 / lower[column][column]
        for row in range(column + 1, count):
            part = sum(lower[row][k] * found[k][column] for k in range(column, row))
            found[row][column] = -part / lower[row][row]
    return found
