"""Whether a bracket or a step tablet would teach more than one more try, and what it would gain."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from firmware_py.craft.emulsion import LOG_OF_A_STOP, SHADOW_FROM_INERTIA, Theta, height
from firmware_py.craft.fitting import (
    STEPS,
    Conditions,
    Span,
    Try,
    chances,
    smoothed,
    spans,
    thinned,
    time_of,
    tries,
)
from firmware_py.craft.likelihood import NODES
from firmware_py.craft.sampling import Sample

# Strips of a bracket lie so far apart [stops]: own.
BRACKET_STOPS = 1.5
# What is told is worth so much more chance: own. Surer advice than this needs nothing of the kind.
WORTH, SURE = 0.10, 0.75
# Results that are imagined of a plate; with what error each kind of plate shows range, shadow and gamma
# [density], the day's own light included in the shadow. Own estimates.
IMAGINED, MOST_SAMPLES = 6, 100
TRY_ERRORS, TABLET_ERRORS = (0.20, 0.30, 9.0), (0.10, 0.25, 0.07)


@dataclass(frozen=True, slots=True)
class Learning:
    """A plate that teaches more than a try; chances 0 to 1.

    A *bracket* is three strips or plates, 1.5 stops apart, developed together: ``chance`` that one of them
    fits, against ``chance_by_try`` for one alone. A *tablet* is a step tablet copied on an edge of the plate
    and read: ``chance`` of the plate after it, against ``chance_by_try`` after a plate judged in words.
    """

    kind: Literal["bracket", "tablet"]
    chance: float
    chance_by_try: float


def learn_more(samples: Sequence[Sample], given: Conditions, stops: float, step: int) -> Learning | None:
    """Return the plate that gains most over a try at ``stops`` and a ``step`` of time, None if little.

    Source: expected value of what is learned, by imagined results; the errors are own.
    """
    whole = tries(thinned(samples, MOST_SAMPLES), given)
    alone = _any_fits(whole, (stops,), step, given)
    if alone >= SURE:
        return None
    three = _any_fits(whole, (stops - BRACKET_STOPS, stops, stops + BRACKET_STOPS), step, given)
    by_try, by_tablet = _after(whole, given, [stops - 1, stops, stops + 1], (stops, step))
    found = [Learning("bracket", three, alone), Learning("tablet", by_tablet, by_try)]
    best = max(found, key=lambda one: one.chance - one.chance_by_try)
    return best if best.chance - best.chance_by_try >= WORTH else None


def _any_fits(whole: Sequence[Try], exposures: Sequence[float], step: int, given: Conditions) -> float:
    return math.fsum(
        one.weight
        for one in whole
        if any(first <= step < last for at in exposures for first, last in spans(one, at, given))
    )


Shown = tuple[float, float, float]


def _after(
    whole: Sequence[Try], given: Conditions, exposures: Sequence[float], at: tuple[float, int]
) -> tuple[float, float]:
    """Return the chance of the plate after a try, and after a tablet, as is to be expected."""
    minutes = time_of(at[1]) / 60
    samples = whole[:: len(NODES)]
    shown = [_shown(one.theta, at[0], minutes, given) for one in samples]
    fits = [[(one, spans(one, stops, given)) for one in whole] for stops in exposures]
    means = []
    for errors in (TRY_ERRORS, TABLET_ERRORS):
        imagined = [
            _best_chance(fits, [_likely(one, truth, errors) for one in shown])
            for truth in shown[:: max(1, len(shown) // IMAGINED)]
        ]
        means.append(math.fsum(imagined) / len(imagined))
    return means[0], means[1]


def _shown(theta: Theta, stops: float, minutes: float, given: Conditions) -> Shown:
    """Return range, shadow and gamma of a plate at its estimated light."""
    gamma = -theta[1] * math.expm1(-theta[2] * minutes * math.exp(theta[7] * given.kelvin))
    at = SHADOW_FROM_INERTIA + LOG_OF_A_STOP * (stops + theta[0])
    low = height(at, theta[5], theta[6])
    return gamma * (height(at + given.subject, theta[5], theta[6]) - low), gamma * low, gamma


def _likely(one: Shown, truth: Shown, errors: Shown) -> float:
    square = sum(((a - b) / error) ** 2 for a, b, error in zip(one, truth, errors, strict=True))
    return math.exp(-0.5 * square)


def _best_chance(fits: Sequence[Sequence[tuple[Try, Sequence[Span]]]], likely: Sequence[float]) -> float:
    """Return the best chance, chosen by half of the samples and counted on the others: else it flatters."""
    weights = [one.weight * likely[number // len(NODES)] for number, (one, _) in enumerate(fits[0])]
    numbered = list(zip(weights, (one.number for one, _ in fits[0]), strict=True))
    halves = [[weight * (number % 2 == half) for weight, number in numbered] for half in (0, 1)]
    rows = [
        [
            smoothed(chances([(w, found) for w, (_, found) in zip(half, row, strict=True) if w]))
            for row in fits
        ]
        for half in halves
    ]
    found = 0.0
    for chosen, counted in ((0, 1), (1, 0)):
        places = [(row, step) for row in range(len(fits)) for step in range(STEPS)]
        row, step = max(places, key=lambda at: rows[chosen][at[0]][at[1]])
        found += rows[counted][row][step] / (math.fsum(halves[counted]) or 1.0)
    return found / 2
