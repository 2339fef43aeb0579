"""The belief and its chances, against a slow sampler on numpy and scipy that shares no code with it."""

import math

import numpy as np
import pytest

from firmware_py.craft.belief import PlateEvidence, Prior, advise, believe
from tests.reference.belief_by_numpy import (
    CONTRAST,
    WEIGHT,
    Array,
    Box,
    Seen,
    chance_of_fit,
    constants,
    shown,
    walked,
)

PRIOR = Prior(usual_s=300.0, reference_degC=18.0)
BOX = Box(math.log(0.95 / 5), 0.62, PRIOR.ln_per_K)


def case(number: int) -> list[Seen]:
    """Return one to three plates of a box drawn from the law: in words, or with densities."""
    rng = np.random.default_rng(100 + number)
    c = constants(0.8 * rng.standard_normal((1, 12)), BOX)
    return [_plate(rng, c, measured=number % 2 == 1) for _ in range(1 + number % 3)]


def _plate(rng: np.random.Generator, c: dict[str, Array], *, measured: bool) -> Seen:
    stops, kelvin = rng.uniform(0, 2), rng.uniform(-3, 5)
    minutes = 5 * math.exp(0.2 * rng.standard_normal())
    light = np.array([[0.7 * rng.standard_normal()]])
    gamma, shadow, span = (float(one[0, 0]) for one in shown(c, stops, minutes, kelvin, light))
    ln_appeared = (
        np.log(c["appears"] / c["k"]) - c["per_K"] * kelvin - c["sooner"] * (stops + c["speed"] + light)
    )
    off, heavy = span - 1.05 + 0.1 * rng.standard_normal(), shadow - 0.18 + 0.3 * (span - 1.05)
    words = {"contrast": _word(CONTRAST, off), "weight": _word(WEIGHT, heavy + 0.1 * rng.standard_normal())}
    read = {
        "shadow": max(0.01, shadow + 0.03 * rng.standard_normal()),
        "span": max(0.05, span + 0.05 * rng.standard_normal()),
        "gamma": gamma + 0.06 * rng.standard_normal(),
        "fog_read": 0.15,
    }
    return Seen(
        stops=stops,
        light=0.7,
        minutes=minutes,
        kelvin=kelvin,
        appeared=math.exp(float(ln_appeared[0, 0]) + 0.12 * rng.standard_normal()),
        appeared_kelvin=kelvin,
        **(read if measured else words),
    )


def _word(words: tuple[str, ...], off: float) -> str:
    return words[2 + (off > 0.14) + (off > 0.31) - (off < -0.14) - (off < -0.31)]


def evidence_of(seen: Seen) -> PlateEvidence:
    read = {}
    if seen.shadow is not None and seen.span is not None and seen.fog_read is not None:
        read = {
            "fog_density": seen.fog_read,
            "shadow_density": seen.shadow + seen.fog_read,
            "highlight_density": seen.shadow + seen.fog_read + seen.span,
        }
    return PlateEvidence(
        exposure_stops=seen.stops,
        light_doubt_stops=seen.light,
        developed_s=60 * seen.minutes,
        bath_degC=18.0 + seen.kelvin,
        appeared_s=None if seen.appeared is None else 60 * seen.appeared,
        contrast=seen.contrast,  # type: ignore[arg-type]
        density=seen.weight,  # type: ignore[arg-type]
        gamma=seen.gamma,
        **read,  # type: ignore[arg-type]
    )


@pytest.mark.timeout(180)
# Two of them in every run; `.ci/run` walks them all.
@pytest.mark.parametrize(
    "number", [*range(2), *(pytest.param(n, marks=pytest.mark.long_walk) for n in range(2, 20))]
)
def test_the_belief_is_that_of_a_walk_over_the_same_law(number):
    plates = case(number)
    belief = believe([evidence_of(one) for one in plates], PRIOR)
    z = walked(plates, BOX, walkers=60, steps=700)
    c = constants(z, BOX)
    for known, found in (
        (belief.speed_stops, c["speed"]),
        (belief.gamma_inf, c["gamma_inf"]),
        (belief.k_per_min, c["k"]),
    ):
        # By the middle and the quarters of the walk: a walker that is stuck far out does not count.
        low, high = np.percentile(found, [16, 84])
        doubt = float(high - low) / 2
        middle = float(np.mean(found[(found > low - 2 * doubt) & (found < high + 2 * doubt)]))
        assert known.value == pytest.approx(middle, abs=0.5 * doubt)
        assert known.doubt == pytest.approx(doubt, rel=0.45)
    advice = advise(belief)
    by_walk = chance_of_fit(z, BOX, advice.exposure_stops, advice.developed_s / 60)
    assert advice.chance == pytest.approx(by_walk, abs=0.15)
