"""Boxes of plates with hidden constants, their days, and the eye that judges them: laws of their own.

Nothing here comes from `firmware_py.craft`: curve, appearance and verdict are written otherwise.
All numbers are invented, inside what issue 17 asks for.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

REFERENCE = 20.0  # degC
PAPER = 1.05
FIT, SHADOW = 0.20, 0.10
PRINTED_COEFFICIENT = 1.9  # per 10 K, as the routine says
PRINTED_S = 240.0  # at the reference temperature, right for a middling box
MISMATCHES = ("curve", "reciprocity", "slips", "coefficient", "new emulsion", "ignores", "appearance")


@dataclass(frozen=True)
class Box:
    """What nobody knows of a box."""

    stops: float  # slower than printed
    gamma_inf: float
    k: float  # 1/min at the reference
    per_10K: float
    fog: float
    fog_growth: float  # in five minutes
    toe: float
    top: float  # of the curve at gamma 1
    visible: float  # density at which an image is first seen
    soak_s: float  # before anything happens at all
    eye: float  # how wide this person's "right" is
    by_shadow: bool  # judges density by the shadows, not by the middle
    mismatch: str = ""


@dataclass(frozen=True)
class Day:
    """What is the same for every worker on a plate: light, subject, bath, and all errors of eyes."""

    light: float  # stops brighter than guessed
    subject: float
    bath: float
    drift: float  # K in five minutes
    misread_bath: float
    contrast_error: float
    weight_error: float
    appear_error: float
    read: tuple[float, float, float, float]
    slip: tuple[float, int, int]
    ignores: tuple[float, float, float]


@dataclass(frozen=True)
class Plate:
    """What came of a plate, and what its worker gets to know of it."""

    shadow: float
    span: float
    fog: float
    gamma: float
    appeared_s: float
    exposure: float
    seconds: float
    bath: float
    contrast: str
    weight: str
    fog_word: str

    @property
    def fits(self) -> bool:
        return abs(self.span - PAPER) <= FIT and self.shadow >= SHADOW


def draw_box(rng: np.random.Generator, mismatch: str = "") -> Box:
    per_10K = rng.uniform(1.5, 2.5)
    if mismatch == "coefficient":
        per_10K = rng.choice([1.15, 3.2])
    return Box(
        stops=rng.uniform(-2, 2),
        gamma_inf=rng.uniform(0.8, 2.5),
        k=0.22 * math.exp(0.55 * rng.standard_normal()),
        per_10K=float(per_10K),
        fog=rng.uniform(0.05, 0.3),
        fog_growth=rng.uniform(0.0, 0.08),
        toe=rng.uniform(0.9, 2.2),
        top=rng.uniform(1.9, 2.8),
        visible=0.1 * math.exp(0.3 * rng.standard_normal()),
        soak_s=rng.uniform(3, 12),
        eye=math.exp(0.25 * rng.standard_normal()),
        by_shadow=bool(rng.random() < 0.5),
        mismatch=mismatch,
    )


def changed(box: Box, rng: np.random.Generator) -> Box:
    """Return a new emulsion sold under the old name."""
    other = draw_box(rng)
    return replace(other, eye=box.eye, by_shadow=box.by_shadow, mismatch=box.mismatch)


def draw_day(rng: np.random.Generator) -> Day:
    return Day(
        light=0.7 * rng.standard_normal(),
        subject=1.35 + 0.04 * rng.standard_normal(),
        bath=rng.uniform(14, 26),
        drift=rng.uniform(-1.2, 1.2),
        misread_bath=0.25 * rng.standard_normal(),
        contrast_error=0.12 * rng.standard_normal(),
        weight_error=0.12 * rng.standard_normal(),
        appear_error=0.12 * rng.standard_normal(),
        read=tuple(float(v) for v in 0.02 * rng.standard_normal(4)),  # type: ignore[arg-type]
        slip=(rng.random(), int(rng.integers(5)), int(rng.integers(5))),
        ignores=(rng.random(), 1.5 * rng.standard_normal(), 0.35 * rng.standard_normal()),
    )


def rate(box: Box, bath: float) -> float:
    return float(box.per_10K ** ((bath - REFERENCE) / 10))


def worked(box: Box, day: Day, seconds: float) -> float:
    """Return the minutes at the reference that a drifting bath is worth, in steps of five seconds."""
    count = max(2, int(seconds / 5))
    at = (np.arange(count) + 0.5) * seconds / count
    baths = day.bath + day.drift * at / 300
    return float(np.mean(box.per_10K ** ((baths - REFERENCE) / 10)) * seconds / 60)


def curve(box: Box, x: float) -> float:
    """Return density at gamma 1 for log10 exposure ``x`` over the inertia."""
    if box.mismatch == "curve":  # an S without a straight part
        return (
            box.top / (1 + 10 ** (-1.75 * (x - box.top / 2) / box.top))
            - box.top / (1 + 10**0.875) * (10 ** min(0.0, x)) * 0.2
        )
    rise = math.log10(1 + 10 ** (box.toe * x)) / box.toe
    return -math.log10(10 ** (-3 * rise) + 10 ** (-3 * box.top)) / 3


def log_exposure(box: Box, day: Day, stops: float) -> float:
    given = stops - box.stops + day.light
    if box.mismatch == "reciprocity":  # every stop more is lengthened exposure, and counts for less
        given = day.light - box.stops + (0.8 * stops if stops > 0 else stops) - 0.5
    return 0.05 + 0.301 * given


def appearance_s(box: Box, day: Day, stops: float) -> float:
    """Return when the image is first seen: when its highlight reaches a visible density."""
    x = log_exposure(box, day, stops)
    if box.mismatch == "appearance":  # by exposure alone, as a power, whatever the contrast
        minutes = 0.12 / box.k * 2 ** (-0.35 * (stops - box.stops + day.light))
    else:
        high = box.gamma_inf * max(curve(box, x + day.subject), 0.05)
        minutes = -math.log(1 - min(0.95, box.visible / high)) / box.k
    seconds = minutes * 60 / rate(box, day.bath) + box.soak_s / math.sqrt(rate(box, day.bath))
    return seconds * math.exp(day.appear_error)


def develop(box: Box, day: Day, stops: float, seconds: float) -> Plate:
    minutes = worked(box, day, seconds)
    gamma = box.gamma_inf * (1 - math.exp(-box.k * minutes))
    x = log_exposure(box, day, stops)
    shadow = gamma * curve(box, x)
    span = gamma * curve(box, x + day.subject) - shadow
    fog = box.fog + box.fog_growth * minutes / 5
    contrast, weight = _words(box, day, shadow, span)
    return Plate(
        shadow=shadow,
        span=span,
        fog=fog,
        gamma=gamma,
        appeared_s=appearance_s(box, day, stops),
        exposure=stops,
        seconds=seconds,
        bath=day.bath + day.drift * seconds / 600 + day.misread_bath,
        contrast=contrast,
        weight=weight,
        fog_word="heavy" if fog > 0.42 else "slight" if fog > 0.25 else "none",
    )


CONTRASTS = ("flat", "rather flat", "right", "rather hard", "hard")
WEIGHTS = ("thin", "rather thin", "right", "rather dense", "dense")


def _words(box: Box, day: Day, shadow: float, span: float) -> tuple[str, str]:
    off = span - PAPER + day.contrast_error
    if box.by_shadow:
        heavy = shadow - 0.22 + day.weight_error
    else:
        heavy = shadow + span / 2 - (0.22 + PAPER / 2) + day.weight_error
    contrast = _word(CONTRASTS, off, 0.12 * box.eye, 0.32 * box.eye)
    weight = _word(WEIGHTS, heavy, 0.12 * box.eye, 0.32 * box.eye)
    if box.mismatch == "slips" and day.slip[0] < 0.05:
        return CONTRASTS[day.slip[1]], WEIGHTS[day.slip[2]]
    return contrast, weight


def _word(words: tuple[str, ...], off: float, near: float, far: float) -> str:
    return words[2 + (off > near) + (off > far) - (off < -near) - (off < -far)]
