"""The exposure and the development with the best chance of a negative that fits, by a belief's samples."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from firmware_py.craft.emulsion import LOG_OF_A_STOP, SHADOW_FROM_INERTIA, Prior, Theta, height
from firmware_py.craft.fitting import (
    LEAST_SHADOW,
    STEPS,
    WELL,
    Conditions,
    Try,
    chances,
    gammas,
    ln_time,
    smoothed,
    spans,
    thinned,
    time_of,
    tries,
)
from firmware_py.craft.learning import Learning, learn_more
from firmware_py.craft.plate_facts import APPEARED_LN
from firmware_py.craft.sampling import Posterior

Doubtful = Literal["speed", "light", "contrast", "velocity", "temperature"]
# Exposures looked at lie so far around what the speed asks for [stops], by so much. Own.
BELOW, ABOVE, BY = -2.0, 5.0, 0.5
# A range holds what has at least this part of the best chance: own.
NEARLY = 0.9
# The middle is taken of what has at least this part, so that no lucky count leads: own.
ALIKE = 0.97
WELL_COUNTS = 0.5  # the part that fitting well counts beside fitting at all: own
# Factors that are looked at: 1 to 100 by steps of 5 %.
FACTOR_STEPS, FACTOR_STEP_LN = 93, 0.05
# By how many errors an appearance is misread, in turn: four equal parts of a normal law.
MISREAD = (-1.2, -0.4, 0.4, 1.2)


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do with the next plate, and how likely it is to fit.

    ``exposure_stops`` [stops] more than the exposure calculated from the box's printed index, and between
    which the chance is nearly as good; ``developed_s`` [s] by the clock in the bath that was given, with its
    range; ``equivalent_s`` [s] the same at the reference temperature by the prior's coefficient; ``chance``
    0 to 1 that the negative fits ``paper_log_range``. ``factor`` of the first appearance instead of a time,
    and its ``factor_chance``. ``most_doubt`` is what a failure would most likely come of; ``learning`` a
    plate that would teach more than a try, None where none would.
    """

    exposure_stops: float
    exposure_low_stops: float
    exposure_high_stops: float
    developed_s: float
    developed_low_s: float
    developed_high_s: float
    equivalent_s: float
    chance: float
    factor: float
    factor_chance: float
    most_doubt: Doubtful
    learning: Learning | None = None


Seen = tuple[float, float]


def decide(
    found: Posterior, prior: Prior, given: Conditions, stops: float | None, seen: Seen | None
) -> Advice:
    """Return the advice with the best chance; ``stops`` fixes the exposure, ``seen`` is (appeared_s, kelvin).

    The chance of every exposure and time is counted over samples, lights and subjects: a plate fits between
    two gammas, and so between two times. Source: own.
    """
    samples = thinned(found.samples)
    whole = tries(samples, given)
    if seen is not None and stops is not None:
        whole = _after_appearance(whole, stops, seen)
    exposures = _exposures(whole) if stops is None else [stops]
    rows = [smoothed(chances([(one.weight, spans(one, at, given)) for one in whole])) for at in exposures]
    scores = [_scores(whole, at, given, row) for at, row in zip(exposures, rows, strict=True)]
    place = max(range(len(rows)), key=lambda n: _around(scores, n))
    row = rows[place]
    step = _middle_of_best(scores[place])
    best = row[step]
    low, high = _range(row, step)
    likely = [at for at, other in zip(exposures, rows, strict=True) if max(other) >= NEARLY * best]
    developed_s = time_of(step)
    factor, factor_chance = _factor(whole, exposures[place], given)
    return Advice(
        exposure_stops=exposures[place],
        exposure_low_stops=min(likely, default=exposures[place]),
        exposure_high_stops=max(likely, default=exposures[place]),
        developed_s=developed_s,
        developed_low_s=time_of(low),
        developed_high_s=time_of(high),
        equivalent_s=developed_s * math.exp(prior.ln_per_K * given.kelvin),
        chance=min(1.0, best),
        factor=factor,
        factor_chance=factor_chance,
        learning=learn_more(samples, given, exposures[place], step) if stops is None else None,
        most_doubt=_most_doubt(whole, exposures[place], developed_s, given),
    )


def _after_appearance(whole: Sequence[Try], stops: float, seen: Seen) -> list[Try]:
    """Return the tries weighted anew by when the image first showed."""
    appeared_s, kelvin = seen
    found = []
    for one in whole:
        theta = one.theta
        expected = math.log(60 * theta[3] / theta[2]) - theta[7] * kelvin
        off = math.log(appeared_s) - expected + theta[4] * (stops + theta[0] + one.light)
        likely = math.exp(-0.5 * (off / APPEARED_LN) ** 2) + 0.02
        found.append(Try(theta, one.light, one.subject, one.weight * likely, one.number))
    total = math.fsum(one.weight for one in found)
    return [Try(one.theta, one.light, one.subject, one.weight / total, one.number) for one in found]


def _exposures(whole: Sequence[Try]) -> list[float]:
    total = math.fsum(one.weight for one in whole)
    need = -math.fsum(one.weight * one.theta[0] for one in whole) / total
    first = math.ceil((need + BELOW) / BY)
    return [BY * n for n in range(first, first + int((ABOVE - BELOW) / BY) + 1)]


def _scores(whole: Sequence[Try], stops: float, given: Conditions, row: Sequence[float]) -> list[float]:
    """Return the chances with those of fitting well added in part: of equal chances the middle is taken."""
    well = smoothed(chances([(one.weight, spans(one, stops, given, WELL)) for one in whole]))
    return [chance + WELL_COUNTS * more for chance, more in zip(row, well, strict=True)]


def _around(rows: Sequence[Sequence[float]], place: int) -> float:
    """Return the best chance of an exposure and its neighbours, so that no lucky count leads."""
    beside = [max(rows[n]) for n in (place - 1, place + 1) if 0 <= n < len(rows)]
    return max(rows[place]) + 0.25 * sum(beside)


def _middle_of_best(row: Sequence[float]) -> int:
    """Return the middle of the steps around the best whose chance is about as good."""
    best = max(range(len(row)), key=lambda n: row[n])
    least = ALIKE * row[best]
    first = last = best
    while first > 0 and row[first - 1] >= least:
        first -= 1
    while last < len(row) - 1 and row[last + 1] >= least:
        last += 1
    return (first + last) // 2


def _range(row: Sequence[float], step: int) -> tuple[int, int]:
    low = high = step
    while low > 0 and row[low - 1] >= NEARLY * row[step]:
        low -= 1
    while high < STEPS - 1 and row[high + 1] >= NEARLY * row[step]:
        high += 1
    return low, high


def _factor(whole: Sequence[Try], stops: float, given: Conditions) -> tuple[float, float]:
    """Return the factor of the first appearance with the best chance, and that chance."""
    changes = [0.0] * (FACTOR_STEPS + 1)
    for number, one in enumerate(whole):
        theta = one.theta
        appears_ln = math.log(60 * theta[3] / theta[2]) - theta[4] * (stops + theta[0] + one.light)
        appears_ln += APPEARED_LN * MISREAD[number * 7 // 5 % len(MISREAD)]
        for lower, upper in gammas(one, stops, given.papers):
            first = _factor_step(ln_time(theta, lower, 0.0) - appears_ln)
            last = _factor_step(ln_time(theta, upper, 0.0) - appears_ln)
            changes[first] += one.weight
            changes[last] -= one.weight
    total, row = 0.0, []
    for change in changes[:FACTOR_STEPS]:
        total += change
        row.append(total)
    row = smoothed(row)
    step = _middle_of_best(row)
    return math.exp(FACTOR_STEP_LN * step), min(1.0, row[step])


def _factor_step(ln: float) -> int:
    return FACTOR_STEPS if ln == math.inf else min(FACTOR_STEPS, max(0, math.ceil(ln / FACTOR_STEP_LN)))


def _most_doubt(whole: Sequence[Try], stops: float, developed_s: float, given: Conditions) -> Doubtful:
    """Return what failures of this advice most likely come of: shadows too thin, or a range that is off."""
    by_shadow = by_range = 0.0
    for one in whole:
        fits = gammas(one, stops, given.papers)
        share = one.theta[2] * developed_s / 60 * math.exp(one.theta[7] * given.kelvin)
        gamma = -one.theta[1] * math.expm1(-share)
        if any(lower <= gamma <= upper for lower, upper in fits):
            continue
        if not fits or gamma < min(lower for lower, _ in fits):
            by_shadow += one.weight * _is_thin(one, stops, gamma)
            by_range += one.weight * (1 - _is_thin(one, stops, gamma))
        else:
            by_range += one.weight
    if by_shadow > by_range:
        return "speed" if _spread(whole, lambda theta: theta[0]) > given.light_stops else "light"
    parts: dict[Doubtful, float] = {
        "contrast": _spread(whole, lambda theta: math.log(theta[1])),
        "velocity": 0.6 * _spread(whole, lambda theta: math.log(theta[2])),
        "temperature": 0.6 * abs(given.kelvin) * _spread(whole, lambda theta: theta[7]),
    }
    return max(parts, key=lambda name: parts[name])


def _is_thin(one: Try, stops: float, gamma: float) -> int:
    at = SHADOW_FROM_INERTIA + LOG_OF_A_STOP * (stops + one.theta[0] + one.light)
    return int(gamma * height(at, one.theta[5], one.theta[6]) < LEAST_SHADOW)


def _spread(whole: Sequence[Try], of: Callable[[Theta], float]) -> float:
    """Return one standard deviation of a constant over the tries."""
    total = math.fsum(one.weight for one in whole)
    mean = math.fsum(one.weight * of(one.theta) for one in whole) / total
    return math.sqrt(math.fsum(one.weight * (of(one.theta) - mean) ** 2 for one in whole) / total)
