"""A thermometer held against a temperature that is known: what must be added to its readings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from firmware_py.craft.limits import not_negative
from firmware_py.craft.refusal import Refused

# Melting ice and water are at 0 degC by the old definition of the scale; stirred, crushed ice made from
# clean water is good to this. Common practice, no source.
ICE_POINT_degC = 0.0
ICE_TOLERANCE_K = 0.1
FEWEST_READINGS = 10
# Readings further apart than this come from a probe that has not settled, or from water that was not stirred.
# Common practice, no source: four steps of a 12-bit probe.
STEADY_WITHIN_K = 0.25
# A probe that is further out than this is broken, or lies elsewhere. Common practice, no source.
LARGEST_OFFSET_K = 3.0
# An offset found at one temperature says less of another: so much for each degree between. Own judgement.
DRIFT_PER_K = 0.01
STEP_K = 0.0625


@dataclass(frozen=True, slots=True)
class Calibration:
    """What to add to a probe's readings [K], found at ``reference_degC`` [degC], and how good that is [K].

    Source: own.
    """

    offset_K: float
    tolerance_K: float
    reference_degC: float

    def tolerance_at_K(self, bath_degC: float) -> float:
        """Return how good a corrected reading of ``bath_degC`` [degC] is [K]. Source: own judgement."""
        return self.tolerance_K + DRIFT_PER_K * abs(bath_degC - self.reference_degC)


def calibrated(
    readings_degC: Sequence[float], reference_degC: float, reference_tolerance_K: float
) -> Calibration:
    """Return the calibration from readings [degC] taken in something at ``reference_degC`` [degC].

    The median counts, so that one bad reading does not. Needs 10 readings or more within 0.25 K, a reference
    of -5 to 60 degC good to 0 to 2 K, and an offset of at most 3 K; raises `Refused` otherwise.
    Source: own; the median is common practice, no source.
    """
    if not -5.0 <= reference_degC <= 60.0:
        raise Refused(f"a reference at {reference_degC:g} degC", where="reference", allowed="-5 to 60 degC")
    if not_negative("tolerance of the reference, K", reference_tolerance_K) > 2.0:
        raise Refused(
            f"a reference good to {reference_tolerance_K:g} K", where="reference", allowed="0 to 2 K"
        )
    _check_steady(readings_degC)
    offset_K = reference_degC - median(readings_degC)
    if abs(offset_K) > LARGEST_OFFSET_K:
        raise Refused(
            f"the probe would be {abs(offset_K):.1f} K out",
            where="calibration",
            allowed=f"up to {LARGEST_OFFSET_K:g} K; is it in the same bath, and the right probe?",
        )
    return Calibration(offset_K, math.hypot(reference_tolerance_K, STEP_K), reference_degC)


def _check_steady(readings_degC: Sequence[float]) -> None:
    if len(readings_degC) < FEWEST_READINGS or not all(map(math.isfinite, readings_degC)):
        raise Refused(
            f"{len(readings_degC)} readings", where="calibration", allowed=f"{FEWEST_READINGS} or more"
        )
    spread_K = max(readings_degC) - min(readings_degC)
    if spread_K > STEADY_WITHIN_K:
        raise Refused(
            f"the readings lie {spread_K:.2f} K apart",
            where="calibration",
            allowed=f"within {STEADY_WITHIN_K:g} K: stir, and wait until the probe has settled",
        )
