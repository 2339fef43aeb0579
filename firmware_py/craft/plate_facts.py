"""A plate's evidence made ready, with the errors of eye, light and measurement that it is counted with."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from firmware_py.craft.emulsion import USUAL_SUBJECT_LOG_RANGE, Prior
from firmware_py.craft.evidence import PlateEvidence
from firmware_py.craft.verdict import CONTRASTS, WEIGHTS

USUAL_PAPER_LOG_RANGE = 1.05
# Errors, one standard deviation each. All own estimates, no source; tried in tests/benchmarks/blind_box.
EYE_RANGE, EYE_WEIGHT = 0.10, 0.10  # [density] of a verdict in words
READ_DENSITY, READ_GAMMA = 0.03, 0.05
SUBJECT_LOG_RANGE_DOUBT, MEASURED_SUBJECT_DOUBT = 0.05, 0.02  # [log10]
APPEARED_LN, SHADOW_SEEN_LN = 0.14, 0.6
PRINTED_RANGE, PULLED_RANGE = 0.15, 0.4
SLIP = 0.05  # of verdicts are slips of tongue or pen
UNKNOWN_EXPOSURE_STOPS = 3.0
EARLIER_BOX_WEIGHT = 0.3  # a plate of an earlier box counts as this part of one
CLEAN_FOG = 0.2
USUAL_FOG, USUAL_FOG_DOUBT = 0.15, 0.09  # [density] where a shadow was read without the fog beside it
RATHER = 0.17  # [density] how wide "rather" is: own
FOG_SEEN = {"none": 0.0, "slight": 0.15, "heavy": 0.5}  # over a clean plate's, as the eye meets it
FOG_FLATTENS, FOG_DARKENS = 1.0, 0.8  # how much of it the eye takes for want of contrast, and for density


@dataclass(frozen=True, slots=True)
class PlateFacts:
    """What a plate tells, made ready: whatever does not depend on the emulsion is worked out once.

    Times are ``minutes`` [min] and ln of minutes; ``kelvin`` [K] is over the reference temperature; ``light``
    [stops] is one standard deviation of the plate's own light; ``contrast`` and ``weight`` are codes from -1
    to 1; ``eye_range`` [density] is the error of the contrast, larger in fog; ``shadow`` and ``spread``
    [density] were measured, the shadow over fog, to ``shadow_doubt``; ``slipped`` is the same plate without
    its shadow, should that have been read or written wrong.
    Source: own.
    """

    evidence: PlateEvidence
    stops: float
    light: float
    minutes: float | None
    kelvin: float
    appeared_ln: float | None
    appeared_kelvin: float
    contrast: float | None
    weight: float | None
    subject: float
    subject_doubt: float
    paper: float
    fog_seen: float
    eye_range: float
    shadow: float | None
    shadow_doubt: float
    spread: float | None
    weighs: float
    is_plain: bool
    slipped: PlateFacts | None = None

    @classmethod
    def of(cls, plate: PlateEvidence, prior: Prior) -> PlateFacts:
        """Make a plate ready. Source: own."""
        kelvin = 0.0 if plate.bath_degC is None else plate.bath_degC - prior.reference_degC
        warm = plate.appeared_degC
        low, high, fog = plate.shadow_density, plate.highlight_density, plate.fog_density
        known = plate.exposure_stops is not None
        measured = plate.subject_log_range is not None
        made = cls(
            evidence=plate,
            stops=plate.exposure_stops or 0.0,
            light=plate.light_doubt_stops if known else UNKNOWN_EXPOSURE_STOPS,
            minutes=None if plate.developed_s is None else plate.developed_s / 60,
            kelvin=kelvin,
            appeared_ln=None if plate.appeared_s is None else math.log(plate.appeared_s / 60),
            appeared_kelvin=kelvin if warm is None else warm - prior.reference_degC,
            contrast=None if plate.contrast is None else CONTRASTS[plate.contrast],
            weight=None if plate.density is None else WEIGHTS[plate.density],
            subject=plate.subject_log_range or USUAL_SUBJECT_LOG_RANGE,
            subject_doubt=MEASURED_SUBJECT_DOUBT if measured else SUBJECT_LOG_RANGE_DOUBT,
            paper=plate.paper_log_range or USUAL_PAPER_LOG_RANGE,
            fog_seen=_fog_seen(plate),
            eye_range=math.hypot(EYE_RANGE, FOG_FLATTENS * _fog_seen(plate)),
            shadow=None if low is None else low - (USUAL_FOG if fog is None else fog),
            shadow_doubt=READ_DENSITY if fog is not None else USUAL_FOG_DOUBT,
            spread=None if low is None or high is None else high - low,
            weighs=EARLIER_BOX_WEIGHT if plate.earlier_box else 1.0,
            is_plain=_is_plain(plate),
        )
        return made if low is None else replace(made, slipped=replace(made, shadow=None))


def _fog_seen(plate: PlateEvidence) -> float:
    if plate.fog_density is not None:
        return max(0.0, plate.fog_density - CLEAN_FOG)
    return FOG_SEEN[plate.fog or "none"]


def _is_plain(plate: PlateEvidence) -> bool:
    """Return whether a plate has none of the evidence that few plates have."""
    rare = (
        plate.shadow_detail,
        plate.highlights_blocked,
        plate.shadow_seen_s,
        plate.printed_log_range,
    )
    return not plate.pulled_by_eye and all(one is None for one in rare)


def bounds_of(code: float, right: float, rather: float = RATHER) -> tuple[float, float]:
    """Return between which differences a verdict lies: code -1 to 1 as in `verdict`, "rather" half way.

    Source: own.
    """
    if code == 0:
        return -right, right
    low, high = (right, right + rather) if -1 < code < 1 else (right + rather, 99.0)
    return (low, high) if code > 0 else (-high, -low)
