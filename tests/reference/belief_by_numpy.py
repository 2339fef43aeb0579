"""The belief by other means: the same law and errors, written anew in numpy and scipy, and walked over.

Nothing of `firmware_py.craft` is called. The posterior is sampled by the stretch moves of J. Goodman and
J. Weare (2010, from memory), the light integrated on an even grid; slow, and right to a few hundredths of a
standard deviation.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import norm

Array = NDArray[np.float64]
GRID = np.linspace(-3.6, 3.6, 41)
SHARES = norm.pdf(GRID) / norm.pdf(GRID).sum()
STOP = np.log10(2.0)
SUBJECT, PAPER = np.log10(30.0), 1.05
CONTRAST = ("flat", "rather flat", "right", "rather hard", "hard")
WEIGHT = ("thin", "rather thin", "right", "rather dense", "dense")
FOG = {"none": 0.0, "slight": 0.15, "heavy": 0.5, None: 0.0}


@dataclass(frozen=True)
class Seen:
    """A plate as the test knows it; times [min], temperatures [K over the reference]."""

    stops: float
    light: float
    minutes: float
    kelvin: float = 0.0
    appeared: float | None = None
    appeared_kelvin: float = 0.0
    contrast: str | None = None
    weight: str | None = None
    fog: str | None = None
    shadow: float | None = None  # over fog
    span: float | None = None
    fog_read: float | None = None
    gamma: float | None = None


@dataclass(frozen=True)
class Box:
    """What is thought before: the middle of ln k, its doubt, and the coefficient."""

    ln_k: float
    k_doubt: float
    ln_per_K: float


def constants(z: Array, box: Box) -> dict[str, Array]:
    """Return the constants of each row of standard normal numbers, each as a column."""

    def log_normal(middle, doubt, n):
        return middle * np.exp(doubt * z[:, n : n + 1])

    speed = z[:, 0:1]
    return {
        "speed": 1.3 * speed * (1 + 0.06 * speed**2),
        "gamma_inf": log_normal(1.55, 0.36, 1),
        "k": log_normal(np.exp(box.ln_k), box.k_doubt, 2),
        "appears": log_normal(0.13, 0.6, 3),
        "sooner": log_normal(0.15, 0.5, 4),
        "toe": log_normal(0.25, 0.4, 5),
        "shoulder": 2.3 + 0.45 * z[:, 6:7],
        "per_K": np.maximum(0.005, box.ln_per_K + 0.014 * z[:, 7:8]),
        "right": log_normal(0.14, 0.28, 8),
        "weight": log_normal(0.14, 0.4, 9),
        "wanted": 0.18 + 0.06 * z[:, 10:11],
        "light": log_normal(1.0, 0.4, 11),
    }


def curve(x: Array, c: dict[str, Array]) -> Array:
    rise = c["toe"] * np.logaddexp(0, x / c["toe"])
    return np.asarray(rise - 0.25 * np.logaddexp(0, (x - c["shoulder"]) / 0.25))


def _between(word: str, words: tuple[str, ...], off: Array, half: Array, error: float) -> Array:
    """Return the chance that an eye calls a difference so."""
    edges = [np.full_like(half, -np.inf), -half - 0.17, -half, half, half + 0.17, np.full_like(half, np.inf)]
    place = words.index(word)
    part = norm.cdf(edges[place + 1], off, error) - norm.cdf(edges[place], off, error)
    return np.asarray(0.95 * part + 0.01)


def shown(
    c: dict[str, Array], stops: float, minutes: float, kelvin: float, light: Array
) -> tuple[Array, ...]:
    """Return gamma, shadow and range of a plate on every box, at every light [stops]."""
    gamma = c["gamma_inf"] * -np.expm1(-c["k"] * minutes * np.exp(c["per_K"] * kelvin))
    x = -0.1 + STOP * (stops + c["speed"] + light)
    low = curve(x, c)
    return gamma, gamma * low, gamma * (curve(x + SUBJECT, c) - low)


def ln_likelihood(c: dict[str, Array], plate: Seen) -> Array:
    light = GRID * plate.light * c["light"]
    gamma, shadow, span = shown(c, plate.stops, plate.minutes, plate.kelvin, light)
    likely = np.broadcast_to(SHARES, shadow.shape).copy()
    veil = FOG[plate.fog] if plate.fog_read is None else max(0.0, plate.fog_read - 0.2)
    if plate.appeared is not None:
        need = plate.stops + c["speed"] + light
        off = np.log(plate.appeared) - np.log(c["appears"] / c["k"]) + c["per_K"] * plate.appeared_kelvin
        likely *= 0.95 * norm.pdf(off + c["sooner"] * need, 0, 0.14) + 0.015
    if plate.contrast is not None:
        error = np.sqrt(0.10**2 + veil**2 + 0.05**2)
        likely *= _between(plate.contrast, CONTRAST, span - PAPER - veil, c["right"], float(error))
    if plate.weight is not None:
        heavy = shadow - c["wanted"] + 0.3 * (span - PAPER) + 0.8 * veil
        likely *= _between(plate.weight, WEIGHT, heavy, c["weight"], 0.10)
    if plate.shadow is not None and plate.span is not None:
        likely *= 0.97 * norm.pdf(plate.shadow, shadow, 0.03) + 0.015
        likely *= 0.97 * norm.pdf(plate.span, span, np.hypot(0.042, 0.05 * gamma)) + 0.015
    total = likely.sum(axis=1)
    if plate.gamma is not None:
        total *= norm.pdf(plate.gamma, gamma[:, 0], 0.05 + 0.03 * gamma[:, 0]) + 0.05
    return np.asarray(np.log(total + 1e-12))


def walked(plates: list[Seen], box: Box, *, walkers: int = 80, steps: int = 450, seed: int = 1) -> Array:
    """Return samples of the standard normal numbers, the first third of the walk left out."""
    rng = np.random.default_rng(seed)

    def target(z: Array) -> Array:
        c = constants(z, box)
        found = -0.5 * (z**2).sum(axis=1)
        for plate in plates:
            found = found + ln_likelihood(c, plate)
        return np.asarray(found)

    drawn = rng.standard_normal((20 * walkers, 12))
    weight = np.exp(0.3 * (target(drawn) + 0.5 * (drawn**2).sum(axis=1)))
    z = drawn[rng.choice(len(drawn), walkers, replace=False, p=weight / weight.sum())]
    height, half, kept = target(z), walkers // 2, []
    for step in range(steps):
        for mine, others in ((slice(0, half), slice(half, None)), (slice(half, None), slice(0, half))):
            stretch = (1 + rng.random((half, 1))) ** 2 / 2
            partner = z[others][rng.integers(half, size=half)]
            moved = partner + stretch * (z[mine] - partner)
            found = target(moved)
            goes = np.log(rng.random(half)) < 11 * np.log(stretch[:, 0]) + found - height[mine]
            z[mine] = np.where(goes[:, None], moved, z[mine])
            height[mine] = np.where(goes, found, height[mine])
        if step >= steps // 3:
            kept.append(z.copy())
    return np.concatenate(kept)


def chance_of_fit(z: Array, box: Box, stops: float, minutes: float, kelvin: float = 0.0) -> float:
    """Return how likely a plate so exposed and developed fits: range to 0.20, shadow at least 0.10."""
    rng = np.random.default_rng(2)
    c = constants(z, box)
    light = 0.7 * c["light"] * rng.standard_normal((len(z), 1))
    gamma, shadow, span = shown(c, stops, minutes, kelvin, light)
    # A subject that is not measured is uncertain by 0.05 in its range.
    span = span + 0.05 * gamma * rng.standard_normal((len(z), 1))
    return float(np.mean((np.abs(span - PAPER) <= 0.20) & (shadow >= 0.10)))
