"""With which exposures and developing times a plate fits the papers at hand, on every sample of a belief."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.emulsion import LOG_OF_A_STOP, SHADOW_FROM_INERTIA, Theta, height
from firmware_py.craft.laws import normal_numbers
from firmware_py.craft.likelihood import NODES
from firmware_py.craft.sampling import Sample

# A negative fits a paper when its range is so near to the paper's and its deepest shadow so far over fog
# [density]. The first: twice what `paper` calls near enough, still printable: own; the second is the speed
# point of ISO 6, 0.10 over fog (seen in encyclopaedias).
FIT_RANGE, LEAST_SHADOW = 0.20, 0.10
# Developing times that are looked at: 20 s to 2 h by steps of 5 %. Own.
FIRST_LN, STEP_LN, STEPS = math.log(20.0), 0.05, 118
MOST_SAMPLES = 220
LOW_CHANCE, PASSES_LOW, PASSES_HIGH = 0.6, 10, 3
Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Wanted:
    """How a negative is wanted: its range ``off`` the paper's at most, its shadow over fog, as densities."""

    off: float
    least_shadow: float
    most_shadow: float


FITS = Wanted(FIT_RANGE, LEAST_SHADOW, 9.0)
# In the middle of what fits, where an eye judged otherwise than supposed, or a shoulder, does no harm: own.
WELL = Wanted(0.08, 0.15, 0.45)


@dataclass(frozen=True, slots=True)
class Conditions:
    """What the next plate will meet: papers by their log ranges, the bath, the light, the subject.

    ``kelvin`` [K] is the bath over the reference temperature, ``light_stops`` one standard deviation of the
    light as estimated, ``subject`` [log10] with its doubt. Source: own.
    """

    papers: tuple[float, ...]
    kelvin: float
    light_stops: float
    subject: float
    subject_doubt: float


@dataclass(frozen=True, slots=True)
class Try:
    """A plate as it might be: a sample of the belief, with one light and one subject, and how likely that is.

    ``light`` [stops] brighter than estimated, ``subject`` [log10]. Source: own.
    """

    theta: Theta
    light: float
    subject: float
    weight: float
    number: int


def thinned(samples: Sequence[Sample], most: int = MOST_SAMPLES) -> tuple[Sample, ...]:
    """Return at most so many samples that represent all, picked evenly by weight. Source: usual practice."""
    if len(samples) <= most:
        return tuple(samples)
    picked: dict[int, int] = {}
    total, place = 0.0, 0
    for turn in range(most):
        wanted = (turn + 0.5) / most
        while total + samples[place].weight < wanted and place < len(samples) - 1:
            total += samples[place].weight
            place += 1
        picked[place] = picked.get(place, 0) + 1
    return tuple(Sample(samples[n].theta, count / most) for n, count in picked.items())


def tries(samples: Sequence[Sample], given: Conditions) -> list[Try]:
    """Return every sample with every node of the light, each with a subject of its own. Source: own."""
    found = []
    numbers = normal_numbers(2 * len(samples), 29)
    for number, sample in enumerate(samples):
        for turn, (node, weight) in enumerate(NODES):
            subject = given.subject + given.subject_doubt * numbers[number][turn]
            found.append(
                Try(
                    sample.theta,
                    given.light_stops * sample.theta[11] * node,
                    subject,
                    sample.weight * weight,
                    number,
                )
            )
    return found


def gammas(
    one: Try, stops: float, papers: Sequence[float], wanted: Wanted = FITS
) -> list[tuple[float, float]]:
    """Return between which gammas a try with ``stops`` more exposure is as wanted, for each paper.

    Source: own.
    """
    theta = one.theta
    at = SHADOW_FROM_INERTIA + LOG_OF_A_STOP * (stops + theta[0] + one.light)
    low = height(at, theta[5], theta[6])
    rise = height(at + one.subject, theta[5], theta[6]) - low
    if rise <= 0.05 or low <= 0.005:
        return []
    off, least, most = wanted.off, wanted.least_shadow / low, wanted.most_shadow / low
    found = [(max((paper - off) / rise, least), min((paper + off) / rise, most)) for paper in papers]
    return [(lower, upper) for lower, upper in found if lower < upper]


def ln_time(theta: Theta, gamma: float, kelvin: float) -> float:
    """Return ln of the time [s] for a gamma in a bath so warm; infinity for one never reached.

    Source: as `Emulsion`.
    """
    share = gamma / theta[1]
    if share >= 1:
        return math.inf
    return math.log(-60 * math.log1p(-share) / theta[2]) - theta[7] * kelvin


def spans(one: Try, stops: float, given: Conditions, wanted: Wanted = FITS) -> list[Span]:
    """Return the steps of developing time [from, up to) by which a try fits; apart, for several papers.

    Source: own.
    """
    found: list[Span] = []
    for lower, upper in gammas(one, stops, given.papers, wanted):
        first = _step(ln_time(one.theta, lower, given.kelvin))
        last = _step(ln_time(one.theta, upper, given.kelvin))
        if found and first <= found[-1][1]:
            found[-1] = (found[-1][0], max(last, found[-1][1]))
        elif last > first:
            found.append((first, last))
    return found


def _step(ln_s: float) -> int:
    if ln_s == math.inf:
        return STEPS
    return min(STEPS, max(0, math.ceil((ln_s - FIRST_LN) / STEP_LN)))


def time_of(step: float) -> float:
    """Return the developing time [s] of a step. Source: own."""
    return math.exp(FIRST_LN + STEP_LN * step)


def chances(weighted: Sequence[tuple[float, Sequence[Span]]]) -> list[float]:
    """Return the chance of each step of developing time, from spans with their weights. Source: own."""
    changes = [0.0] * (STEPS + 1)
    for weight, found in weighted:
        for first, last in found:
            changes[first] += weight
            changes[last] -= weight
    total, whole = 0.0, []
    for change in changes[:STEPS]:
        total += change
        whole.append(total)
    return whole


def smoothed(row: Sequence[float]) -> list[float]:
    """Return a row with the chance noise of few samples taken out, the more the lower its chances are.

    Each pass makes every place the mean of itself and its neighbours, these half as heavy. Source: own.
    """
    found = list(row)
    for _ in range(PASSES_LOW if max(row) < LOW_CHANCE else PASSES_HIGH):
        padded = [found[0], *found, found[-1]]
        found = [
            0.25 * before + 0.5 * here + 0.25 * after
            for before, here, after in zip(padded, padded[1:], padded[2:], strict=False)
        ]
    return found
