"""Weighted samples of a box's hidden constants: least squares for the shape, importance sampling on it.

The same evidence gives the same samples on every machine: the random numbers come from a fixed seed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.emulsion import NUMBERS, Prior, Theta, theta_of
from firmware_py.craft.laws import LN_2PI, Law, Vector, dot, effective, law, law_of, normal_numbers
from firmware_py.craft.least_squares import first_fits
from firmware_py.craft.likelihood import log_likelihood
from firmware_py.craft.plate_facts import PlateFacts

# Draws from the prior where the evidence is thin, and in each of the rounds otherwise: own, so that two dozen
# plates take less than half a second.
FROM_PRIOR, ROUND, FEWER = 400, 160, 110
FEW_PLATES, ENOUGH = 3, 60.0
ROUNDS, MOST_ROUNDS, LEAST, MANY_PLATES = 2, 4, 30.0, 16


@dataclass(frozen=True, slots=True)
class Sample:
    """One set of constants with its weight; the weights of all together make 1. Source: own."""

    theta: Theta
    weight: float


@dataclass(frozen=True, slots=True)
class Posterior:
    """Weighted samples, of how many equal ones they are worth, and ln of how likely all the evidence was.

    Source: importance sampling.
    """

    samples: tuple[Sample, ...]
    effective: float
    ln_evidence: float


def posterior(facts: Sequence[PlateFacts], prior: Prior) -> Posterior:
    """Return samples of the constants of a box, from what its plates show.

    Thin evidence weighs draws from the prior itself. Otherwise the posterior's shape is found by least
    squares (Gauss and Newton's steps from three starts, each plate's light a number of its own), drawn from,
    fitted anew to the weighted draws, and drawn from again; all draws are weighted by the mixture of the laws
    they came from.
    Source: adaptive multiple importance sampling, J.-M. Cornuet and others, from memory; the rest is own.
    """
    drawn = _Drawn(facts, prior)
    if len(facts) <= FEW_PLATES:
        drawn.add_prior(FROM_PRIOR)
        if drawn.effective() >= ENOUGH:
            return drawn.finished()
    many = len(facts) > MANY_PLATES
    count = FEWER if many else ROUND
    for first in first_fits(facts, prior):
        drawn.add(first.law, count, seed=41)
    for turn in range(ROUNDS + 1 if many else MOST_ROUNDS):
        if turn >= ROUNDS and drawn.effective() >= LEAST:
            break
        drawn.add(drawn.fitted(), count, seed=43)
    return drawn.finished()


class _Drawn:
    """All draws so far, each with its ln likelihood and its density under every law that was drawn from."""

    def __init__(self, facts: Sequence[PlateFacts], prior: Prior) -> None:
        self._facts, self._prior = facts, prior
        self._z: list[Sequence[float]] = []
        self._theta: list[Theta] = []
        self._ln_target: Vector = []
        self._laws: list[tuple[Law, int]] = []
        self._by_law: list[Vector] = []

    def add_prior(self, count: int) -> None:
        corner = [[0.0] * row + [1.0] for row in range(NUMBERS)]
        self._add(law([0.0] * NUMBERS, corner), [list(v) for v in normal_numbers(count, 17)])

    def add(self, given: Law, count: int, seed: int) -> None:
        self._add(given, [given.place(vector) for vector in normal_numbers(count, seed + len(self._laws))])

    def _add(self, given: Law, places: list[Vector]) -> None:
        for column, (known, _) in zip(self._by_law, self._laws, strict=True):
            column.extend(known.ln_density(z) for z in places)
        self._laws.append((given, len(places)))
        self._by_law.append([given.ln_density(z) for z in [*self._z, *places]])
        for z in places:
            theta = theta_of(z, self._prior)
            self._z.append(z)
            self._theta.append(theta)
            ln_prior = -0.5 * (dot(z, z) + NUMBERS * LN_2PI)
            self._ln_target.append(ln_prior + sum(log_likelihood(one, theta) for one in self._facts))

    def _ln_weights(self) -> Vector:
        total = sum(count for _, count in self._laws)
        shares = [math.log(count / total) for _, count in self._laws]
        found = []
        for target, *densities in zip(self._ln_target, *self._by_law, strict=True):
            lns = [share + ln for share, ln in zip(shares, densities, strict=True)]
            top = max(lns)
            found.append(target - top - math.log(math.fsum(math.exp(ln - top) for ln in lns)))
        return found

    def effective(self) -> float:
        return effective(_shares(self._ln_weights()))

    def fitted(self) -> Law:
        """Return the law of the weighted draws, leaning on the last law while few of them count."""
        ln_weights = self._ln_weights()
        shares, power = _shares(ln_weights), 1.0
        while effective(shares) < 40 and power > 0.02:
            power *= 0.8
            shares = _shares([power * ln for ln in ln_weights])
        return law_of(self._z, shares)

    def finished(self) -> Posterior:
        ln_weights = self._ln_weights()
        shares = _shares(ln_weights)
        total = math.fsum(shares)
        samples = tuple(
            Sample(theta, share / total)
            for theta, share in zip(self._theta, shares, strict=True)
            if share > 1e-6 * total
        )
        return Posterior(samples, effective(shares), max(ln_weights) + math.log(total / len(shares)))


def _shares(ln_weights: Sequence[float]) -> Vector:
    top = max(ln_weights)
    return [math.exp(ln - top) for ln in ln_weights]
