"""What a plate comes to, by its light and its development, and how an eye would judge it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random

from firmware_py.craft.simulation import GrowingImage
from firmware_py.craft.verdict import Contrast, Density, Fault, Fog
from firmware_py.facts.verdict import Verdict
from firmware_py.rehearsal.demo.season import DemoBox

WANTED_RANGE = 1.05
USUAL_SCENE = 1.6  # log exposure from the shadow that should show detail to the high light
RIGHT_GAMMA = 0.95  # gives that scene that range, with its shadow on the toe
SHADOW = 0.15
RIGHT_MIDDLE = SHADOW + WANTED_RANGE / 2
# Where the shadow stands on the toe when all is right: RIGHT_GAMMA · log10(1 + 10^x) = SHADOW.
RIGHT_LOG_EXPOSURE = math.log10(10 ** (SHADOW / RIGHT_GAMMA) - 1)
LOG_OF_A_STOP = math.log10(2)


@dataclass(frozen=True, slots=True)
class Negative:
    """Densities over fog of the shadow and the high light, its gamma, and its fog and base."""

    shadow: float
    highlight: float
    gamma: float
    fog: float


def image_of(box: DemoBox) -> GrowingImage:
    """Return how the image of such a plate grows in a fresh bath."""
    return GrowingImage(box.appears_s, 3.4 * box.appears_s, box.gamma_inf, box.k_per_min)


def negative(box: DemoBox, more_stops: float, fresh_s: float, random: Random) -> Negative:
    """Return what came of a plate that got ``more_stops`` [stops] more than the reckoning, uncorrected.

    ``fresh_s`` [s] is its equivalent time in a fresh bath. The scene's own range and the weather scatter. The
    toe is own: density over fog = gamma · log10(1 + exposure over inertia).
    """
    gamma = image_of(box).gamma(fresh_s)
    light = (more_stops - box.slower_stops + random.gauss(0.0, 0.25)) * LOG_OF_A_STOP
    scene = USUAL_SCENE + random.gauss(0.0, 0.06)
    fog = box.fog + 0.02 * (fresh_s / 300.0) + abs(random.gauss(0.0, 0.01))
    low = RIGHT_LOG_EXPOSURE + light
    return Negative(_density(gamma, low), _density(gamma, low + scene), gamma, fog)


def judged(made: Negative, *, measured: bool, random: Random) -> Verdict:
    """Return the verdict of a careful eye on a dry plate, now and then with a densitometer."""
    spread = (made.highlight - made.shadow) / (
        _density(RIGHT_GAMMA, RIGHT_LOG_EXPOSURE + USUAL_SCENE) - SHADOW
    )
    middle = (made.highlight + made.shadow) / 2 / RIGHT_MIDDLE
    return Verdict(
        contrast=_contrast(spread * math.exp(random.gauss(0.0, 0.03))),
        density=_weight(middle * math.exp(random.gauss(0.0, 0.04))),
        fog=_fog(made.fog),
        faults=_faults(random),
        shadow_density=_read(made.fog + made.shadow, measured, random),
        highlight_density=_read(made.fog + made.highlight, measured, random),
        fog_density=_read(made.fog, measured, random),
        gamma=_read(made.gamma, measured, random),
    )


def _density(gamma: float, log_exposure: float) -> float:
    return gamma * math.log10(1 + 10**log_exposure)


def _read(density: float, measured: bool, random: Random) -> float | None:
    return round(max(0.0, density + random.gauss(0.0, 0.008)), 2) if measured else None


def _contrast(ratio: float) -> Contrast:
    if ratio > 1.22:
        return "hard"
    if ratio > 1.08:
        return "rather hard"
    if ratio >= 0.93:
        return "right"
    return "rather flat" if ratio >= 0.8 else "flat"


def _weight(ratio: float) -> Density:
    if ratio > 1.3:
        return "dense"
    if ratio > 1.1:
        return "rather dense"
    if ratio >= 0.9:
        return "right"
    return "rather thin" if ratio >= 0.75 else "thin"


def _fog(density: float) -> Fog:
    return "heavy" if density > 0.4 else "slight" if density > 0.25 else "none"


def _faults(random: Random) -> tuple[Fault, ...]:
    usual: tuple[Fault, ...] = ("pinholes", "stain", "air bells", "frilling", "streaks", "scratches")
    return (random.choice(usual),) if random.random() < 0.2 else ()
