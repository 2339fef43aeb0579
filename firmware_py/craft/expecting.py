"""What a plate would show on a given emulsion beside what it showed, as plain numbers with plain errors.

A first guess of the posterior is made of these by least squares; the exact likelihood then weighs it.
"""

from __future__ import annotations

import math

from firmware_py.craft.emulsion import LOG_OF_A_STOP, SHADOW_FROM_INERTIA, Theta, height
from firmware_py.craft.likelihood import WHOLE_SHARE, gamma_of
from firmware_py.craft.plate_facts import (
    APPEARED_LN,
    EYE_WEIGHT,
    FOG_DARKENS,
    FOG_FLATTENS,
    PRINTED_RANGE,
    RATHER,
    READ_DENSITY,
    READ_GAMMA,
    PlateFacts,
)

# A verdict's word as a middle and an error, by an even law over its interval. Source: definition.
_TWELFTH = 1 / math.sqrt(12)
# Residuals beyond so many errors count only in proportion, so that a slip does not lead. Source: P. J. Huber.
MOST_ERRORS = 2.5
Row = tuple[float, float]


def misses(facts: PlateFacts, theta: Theta, light: float) -> list[Row]:
    """Return (expected less seen, error) of each thing the plate showed, with its light so much brighter.

    ``light`` [stops]. Source: own.
    """
    need = facts.stops + theta[0] + light
    at = SHADOW_FROM_INERTIA + LOG_OF_A_STOP * need
    gamma = gamma_of(facts, theta)
    low = height(at, theta[5], theta[6])
    shadow, spread = gamma * low, gamma * (height(at + facts.subject, theta[5], theta[6]) - low)
    rows: list[Row] = []
    if facts.appeared_ln is not None:
        seen = facts.appeared_ln + theta[7] * facts.appeared_kelvin
        rows.append((math.log(theta[3] / theta[2]) - theta[4] * need - seen, 1.1 * APPEARED_LN))
    rows += _word_rows(facts, theta, shadow, spread)
    rows += _measured_rows(facts, gamma, shadow, spread)
    return rows


def _word_rows(facts: PlateFacts, theta: Theta, shadow: float, spread: float) -> list[Row]:
    rows: list[Row] = []
    if facts.contrast is not None:
        seen = spread - facts.paper - FOG_FLATTENS * facts.fog_seen
        rows.append(_word_row(seen, facts.contrast, theta[8], math.hypot(facts.eye_range, 0.05)))
    if facts.weight is not None:
        by_shadow = shadow - theta[10] + FOG_DARKENS * facts.fog_seen
        seen = by_shadow + 0.5 * WHOLE_SHARE * (spread - facts.paper)
        rows.append(_word_row(seen, facts.weight, theta[9], EYE_WEIGHT))
    return rows


def _word_row(seen: float, code: float, right: float, error: float) -> Row:
    if code == 0:
        return seen, math.hypot(error, 2 * right * _TWELFTH)
    way = 1 if code > 0 else -1
    if abs(code) < 1:
        return seen - way * (right + RATHER / 2), math.hypot(error, RATHER * _TWELFTH)
    off = way * seen - (right + RATHER + 0.15)
    return way * min(off, 0.0), math.hypot(error, 0.12)


def _measured_rows(facts: PlateFacts, gamma: float, shadow: float, spread: float) -> list[Row]:
    plate, rows = facts.evidence, []
    if facts.shadow is not None:
        rows.append((shadow - facts.shadow, facts.shadow_doubt))
    if facts.spread is not None:
        rows.append((spread - facts.spread, math.hypot(1.4 * READ_DENSITY, facts.subject_doubt * gamma)))
    if plate.gamma is not None:
        rows.append((gamma - plate.gamma, READ_GAMMA + 0.03 * gamma))
    if plate.printed_log_range is not None:
        rows.append((spread - plate.printed_log_range, 1.1 * PRINTED_RANGE))
    return rows
