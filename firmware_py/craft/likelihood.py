"""How likely a plate's evidence is on a given emulsion, its own light and subject integrated out."""

from __future__ import annotations

import math

from firmware_py.craft.emulsion import LOG_OF_A_STOP, SHADOW_FROM_INERTIA, SHOULDER_WIDTH, Theta, height
from firmware_py.craft.plate_facts import (
    APPEARED_LN,
    EYE_WEIGHT,
    FOG_DARKENS,
    FOG_FLATTENS,
    PRINTED_RANGE,
    PULLED_RANGE,
    READ_DENSITY,
    READ_GAMMA,
    SHADOW_SEEN_LN,
    SLIP,
    PlateFacts,
    bounds_of,
)

# Four nodes and weights of Gauss and Hermite for a normal law. Source: definition; the tests check moments.
NODES = (
    (-2.3344142183389773, 0.045875854768068498),
    (-0.74196378430272591, 0.45412414523193151),
    (0.74196378430272591, 0.45412414523193151),
    (2.3344142183389773, 0.045875854768068498),
)
# Three of them, where the light is nearly known.
NEAR_NODES = ((-math.sqrt(3.0), 1 / 6), (0.0, 2 / 3), (math.sqrt(3.0), 1 / 6))
_ROOT_2, _ROOT_2PI = math.sqrt(2.0), math.sqrt(2.0 * math.pi)
_EYE_WEIGHT_2 = EYE_WEIGHT * _ROOT_2
_APPEARED_TOP = (1 - SLIP) / (APPEARED_LN * _ROOT_2PI)
_LEAST = 1e-12
# Part of a density's law for a figure read or written wrong; likelihoods below which it is looked into: own.
MISREAD, RARELY = 0.015, 0.02
WHOLE_SHARE = 0.6  # of the weight that is judged by the whole plate, the rest by its shadows: own
erf, exp, log, log1p = math.erf, math.exp, math.log, math.log1p


def gamma_of(facts: PlateFacts, theta: Theta) -> float:
    """Return the gamma that a plate reached on this emulsion; 0.6 of all where its time is unknown.

    Source: as `Emulsion`.
    """
    if facts.minutes is None:
        return 0.6 * theta[1]
    return -theta[1] * math.expm1(-theta[2] * facts.minutes * exp(theta[7] * facts.kelvin))


def log_likelihood(facts: PlateFacts, theta: Theta) -> float:
    """Return the ln of how likely the plate's evidence is on this emulsion. Source: own; see `at_lights`."""
    total = 0.0
    gamma = gamma_of(facts, theta)
    for likely, _, _, _ in at_lights(facts, theta, gamma):
        total += likely
    if facts.slipped is not None and total < RARELY:
        # The nodes are where the shadow was read: if it was misread the light may be anywhere.
        total += MISREAD * sum(node[0] for node in at_lights(facts.slipped, theta, gamma))
    seen = facts.evidence.gamma
    if seen is not None:
        total *= _bell(seen - gamma, READ_GAMMA + 0.03 * gamma) + 0.05
    return facts.weighs * log(total + _LEAST)


def at_lights(facts: PlateFacts, theta: Theta, gamma: float) -> list[tuple[float, float, float, float]]:
    """Return (how likely, log exposure of the shadow, shadow, range) at each node of the plate's own light.

    Source: own; the light by four nodes of Gauss and Hermite, put where a measured shadow says it must be.
    """
    toe, shoulder, subject = theta[5], theta[6], facts.subject
    bend = shoulder - 6 * SHOULDER_WIDTH
    need, sooner = facts.stops + theta[0], theta[4] / APPEARED_LN
    late = _late(facts, theta)
    words, measured = _word_bounds(facts, theta), _measured(facts, gamma)
    found = []
    for light, weight in light_nodes(facts, theta, gamma):
        likely = weight
        at = SHADOW_FROM_INERTIA + LOG_OF_A_STOP * (need + light)
        end = at + subject
        # The curve as in `emulsion.height`, written out: this is where the time goes.
        low, high = toe * log1p(exp(at / toe)), toe * log1p(exp(end / toe))
        if end > bend:
            high -= SHOULDER_WIDTH * log1p(exp((end - shoulder) / SHOULDER_WIDTH))
            low -= SHOULDER_WIDTH * log1p(exp((at - shoulder) / SHOULDER_WIDTH))
        shadow, spread = gamma * low, gamma * (high - low)
        if late is not None:
            off = late + sooner * (need + light)
            likely *= _APPEARED_TOP * exp(-0.5 * off * off) + SLIP * 0.3
        if words is not None:
            likely *= _words(words, shadow, spread)
        if measured is not None:
            likely *= _readings(measured, shadow, spread)
        if not facts.is_plain:
            likely *= _rare(facts, theta, at, shadow, spread)
        found.append((likely, at, shadow, spread))
    return found


def _late(facts: PlateFacts, theta: Theta) -> float | None:
    """Return by how many errors the image showed later than it would at just the need, None if unknown."""
    if facts.appeared_ln is None:
        return None
    return (facts.appeared_ln - log(theta[3] / theta[2]) + theta[7] * facts.appeared_kelvin) / APPEARED_LN


def light_nodes(facts: PlateFacts, theta: Theta, gamma: float) -> list[tuple[float, float]]:
    """Return (stops the light was brighter than estimated, weight), to integrate by. Source: own."""
    doubt = facts.light * theta[11]
    if facts.shadow is None:
        return [(doubt * node, weight) for node, weight in NODES]
    gamma, toe = max(gamma, 0.02), theta[5]
    part = max(facts.shadow / gamma, 0.004)
    at = part if part > 20 * toe else toe * log(math.expm1(part / toe))
    seen = (at - SHADOW_FROM_INERTIA) / LOG_OF_A_STOP - facts.stops - theta[0]
    seen_doubt = 1.2 * facts.shadow_doubt / (-gamma * math.expm1(-part / toe)) / LOG_OF_A_STOP
    one, other = 1 / doubt**2, 1 / seen_doubt**2
    middle, wide = other * seen / (one + other), 1 / math.sqrt(one + other)
    # A node's weight is that of the middle law, times how the light's own law differs from it there.
    share, found = wide / doubt, []
    for node, weight in NEAR_NODES:
        at = middle + wide * node
        found.append((at, weight * share * exp(0.5 * (node * node - (at / doubt) ** 2))))
    return found


def _bell(off: float, doubt: float) -> float:
    return exp(-0.5 * (off / doubt) ** 2) / (doubt * _ROOT_2PI)


# Bounds of the range, its error; bounds of the weight; how much it is judged by the whole; half the paper.
_Words = tuple[float, float, float, float, float, float]
_ALL = (-99.0, 99.0)


def _word_bounds(facts: PlateFacts, theta: Theta) -> _Words | None:
    """Return between what range and what weight the verdict's words lie, None without words."""
    if facts.contrast is None and facts.weight is None:
        return None
    low, high = _ALL if facts.contrast is None else bounds_of(facts.contrast, theta[8])
    thin, dense = _ALL if facts.weight is None else bounds_of(facts.weight, theta[9])
    flatter, darker = FOG_FLATTENS * facts.fog_seen, FOG_DARKENS * facts.fog_seen
    middle = 0.5 * WHOLE_SHARE
    wanted = theta[10] + middle * facts.paper - darker
    wide = math.hypot(facts.eye_range, facts.subject_doubt) * _ROOT_2
    shift = facts.paper + flatter
    return low + shift, high + shift, wide, thin + wanted, dense + wanted, middle


def _words(words: _Words, shadow: float, spread: float) -> float:
    """Return how likely the verdict's two words are, for a shadow and a range [density]."""
    low, high, wide, thin, dense, middle = words
    contrast = 0.5 * (erf((high - spread) / wide) - erf((low - spread) / wide))
    weight = shadow + middle * spread
    by_weight = 0.5 * (erf((dense - weight) / _EYE_WEIGHT_2) - erf((thin - weight) / _EYE_WEIGHT_2))
    return ((1 - SLIP) * contrast + SLIP / 5) * ((1 - SLIP) * by_weight + SLIP / 5)


# The shadow read, its precision and how high the bell is; the same of the range, 0 where it was not read.
_Measured = tuple[float, float, float, float, float, float]


def _measured(facts: PlateFacts, gamma: float) -> _Measured | None:
    """Return what densities were measured, with their errors, None where no shadow was."""
    if facts.shadow is None and facts.spread is None:
        return None
    doubt = facts.shadow_doubt
    wide = math.hypot(1.4 * READ_DENSITY, facts.subject_doubt * gamma)
    top = 0.0 if facts.spread is None else 0.97 / (wide * _ROOT_2PI)
    span = facts.spread or 0.0, -0.5 / wide**2, top
    if facts.shadow is None:
        return 0.0, 0.0, 1.0, *span
    return facts.shadow, -0.5 / doubt**2, 0.97 / (doubt * _ROOT_2PI), *span


def _readings(measured: _Measured, shadow: float, spread: float) -> float:
    """Return how likely the measured densities are; now and then a figure is read or written wrong."""
    low, precision, top, span, span_precision, span_top = measured
    off, other = shadow - low, spread - span
    likely = top * exp(precision * off * off)
    return likely * (span_top * exp(span_precision * other * other) + MISREAD)


def _rare(facts: PlateFacts, theta: Theta, at: float, shadow: float, spread: float) -> float:
    """Return how likely the evidence is that few plates have."""
    plate, likely = facts.evidence, 1.0
    if plate.shadow_detail is not None:
        likely *= _answer(plate.shadow_detail, (shadow - 0.08) / 0.05)
    if plate.highlights_blocked is not None:
        likely *= _answer(plate.highlights_blocked, (at + facts.subject - theta[6]) / 0.25)
    if plate.shadow_seen_s is not None:
        likely *= _shadow_seen(facts, theta, plate.shadow_seen_s / 60, at)
    if plate.printed_log_range is not None:
        likely *= 0.9 * _bell(plate.printed_log_range - spread, PRINTED_RANGE) + 0.1
    if plate.pulled_by_eye:
        likely *= _bell(facts.paper - spread, PULLED_RANGE)
    return likely


def _shadow_seen(facts: PlateFacts, theta: Theta, minutes: float, at: float) -> float:
    """Return how likely shadow detail was to show then: at a density of some 0.05."""
    rate = theta[2] * exp(theta[7] * facts.appeared_kelvin)
    seen = -theta[1] * math.expm1(-rate * minutes) * height(at, theta[5], theta[6])
    return 0.9 * _bell(log(max(seen, 1e-6) / 0.05), SHADOW_SEEN_LN) + 0.05


def _answer(yes: bool, off: float) -> float:
    part = 0.5 * (1 + erf(off / _ROOT_2))
    return (1 - SLIP) * (part if yes else 1 - part) + SLIP / 2
