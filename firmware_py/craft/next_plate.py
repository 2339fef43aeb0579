"""What the judged plates of a box say of the next one: its development, its exposure, and how surely."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.advice import Advice, advice_by_eye, advice_by_measure
from firmware_py.craft.contrast import Growth, fit_growth
from firmware_py.craft.refusal import Refused
from firmware_py.craft.verdict import Contrast, Density

# How far a single plate judged by eye may mislead: own estimates, no source.
EYE_DOUBT_STOPS = 0.5
EYE_DOUBT_SHARE = 0.15
# As sure as advice from plates can be called: own choice.
FIRM_PLATES, FIRM_STOPS, FIRM_SHARE = 4, 1 / 3, 0.1
TIMES_APART, GAMMA_INF_KNOWN_TO = 1.25, 0.25
SCATTERED_STOPS, SCATTERED_SHARE = 0.75, 0.2


@dataclass(frozen=True, slots=True)
class Tried:
    """A plate that was developed for ``equivalent_s`` [s] and judged; what nobody measured is None.

    ``appeared_s`` [s] is the equivalent time of its first appearance, ``gamma`` read from a step tablet,
    ``density_range`` from shadow to high light, ``shadow_over_fog`` the density of the thinnest shadow with
    detail, ``exposed_stops`` [stops] how much more exposure it got than the daylight reckoning said, without
    any correction. Source: own.
    """

    plate: str
    equivalent_s: float
    contrast: Contrast
    density: Density
    appeared_s: float | None = None
    gamma: float | None = None
    density_range: float | None = None
    shadow_over_fog: float | None = None
    exposed_stops: float | None = None


@dataclass(frozen=True, slots=True)
class Estimate:
    """A mean of so many ``plates``, its ``doubt`` (one standard deviation), and how far they scatter.

    ``scatter`` is the standard deviation of the plates themselves, None for one. All in the unit of the
    value. Source: own.
    """

    value: float
    doubt: float
    scatter: float | None
    plates: int


@dataclass(frozen=True, slots=True)
class NextPlate:
    """What to do with the next plate of a box in a developer.

    ``equivalent_s`` [s] to develop it, or ``factor`` times its first appearance; ``exposure_stops`` [stops]
    more than the last plate got; ``correction_stops`` [stops] more than the daylight reckoning says, where
    exposures are known; ``growth`` where gammas were measured. Source: own.
    """

    equivalent_s: Estimate
    factor: Estimate | None
    exposure_stops: float
    correction_stops: Estimate | None
    growth: Growth | None
    reason: str
    is_firm: bool


def next_plate(tried: Sequence[Tried], *, wanted_range: float | None = None) -> NextPlate:
    """Return the advice that plates of one box, judged in this order, give for the next in that developer.

    Each plate says by itself which time and exposure it would have wanted (`advice_by_measure` where a
    growth, its range and ``wanted_range`` are known, else `advice_by_eye`); the advice is their mean, of
    times and factors the geometric one. Its doubt is the larger of the scatter and of an eye's own, divided
    by the root of the number of plates. Refuses no plates at all.
    Source: the diagnoses of `advice`; means and doubts: usual statistics; an eye's doubt: own estimate.
    """
    if not tried:
        raise Refused("no plate of it was judged yet", where="advice", allowed="at least one verdict")
    growth = measured_growth(tried)
    wants = [_wants(plate, growth, wanted_range) for plate in tried]
    equivalent_s = _of_ratios([one.equivalent_s for one in wants])
    correction = _correction(tried, wants)
    return NextPlate(
        equivalent_s=equivalent_s,
        factor=_factor(tried, wants),
        exposure_stops=_exposure(tried[-1], wants[-1], correction),
        correction_stops=correction,
        growth=growth,
        reason=wants[-1].reason,
        is_firm=_is_firm(equivalent_s, correction),
    )


def measured_growth(tried: Sequence[Tried]) -> Growth | None:
    """Return the growth that the plates' measured gammas show, None where they show none well enough.

    The times must lie apart, and the end value be known to a quarter. Source: as `fit_growth`; limits: own.
    """
    points = [(plate.equivalent_s, plate.gamma) for plate in tried if plate.gamma is not None]
    times = [time_s for time_s, _ in points]
    if not points or max(times) < TIMES_APART * min(times):
        return None
    try:
        fitted = fit_growth(points)
    except Refused:
        return None
    known = fitted.gamma_inf_doubt <= GAMMA_INF_KNOWN_TO * fitted.growth.gamma_inf
    return fitted.growth if known else None


def mean_of(values: Sequence[float], eye_doubt: float) -> Estimate:
    """Return the mean of what plates said, with its doubt. Source: usual statistics; own estimate."""
    count = len(values)
    mean = math.fsum(values) / count
    scatter = math.sqrt(math.fsum((v - mean) ** 2 for v in values) / (count - 1)) if count > 1 else None
    return Estimate(mean, max(scatter or 0.0, eye_doubt) / math.sqrt(count), scatter, count)


def _wants(plate: Tried, growth: Growth | None, wanted_range: float | None) -> Advice:
    by_eye = _by_eye(plate, growth)
    if growth is None or plate.density_range is None or wanted_range is None:
        return by_eye
    try:
        measured = advice_by_measure(
            growth,
            plate.equivalent_s,
            got_range=plate.density_range,
            wanted_range=wanted_range,
            shadow_over_fog=plate.shadow_over_fog,
        )
    except Refused:
        return by_eye
    if plate.shadow_over_fog is not None:
        return measured
    # No shadow was measured: then the eye alone knows of the exposure.
    return Advice(measured.equivalent_s, measured.change_s, by_eye.exposure_stops, measured.reason)


def _by_eye(plate: Tried, growth: Growth | None) -> Advice:
    try:
        return advice_by_eye(plate.contrast, plate.density, plate.equivalent_s, growth)
    except Refused:
        # The contrast wanted is beyond what the growth gives; the plain ratio is then all there is to say.
        return advice_by_eye(plate.contrast, plate.density, plate.equivalent_s)


def _of_ratios(values: Sequence[float]) -> Estimate:
    """Return the geometric mean, doubt and scatter turned back into the unit of the values."""
    logs = mean_of([math.log(value) for value in values], EYE_DOUBT_SHARE)
    middle = math.exp(logs.value)
    scatter = None if logs.scatter is None else middle * logs.scatter
    return Estimate(middle, middle * logs.doubt, scatter, logs.plates)


def _factor(tried: Sequence[Tried], wants: Sequence[Advice]) -> Estimate | None:
    pairs = zip(tried, wants, strict=True)
    factors = [want.equivalent_s / plate.appeared_s for plate, want in pairs if plate.appeared_s]
    return _of_ratios(factors) if factors else None


def _correction(tried: Sequence[Tried], wants: Sequence[Advice]) -> Estimate | None:
    pairs = zip(tried, wants, strict=True)
    found = [
        plate.exposed_stops + want.exposure_stops for plate, want in pairs if plate.exposed_stops is not None
    ]
    return mean_of(found, EYE_DOUBT_STOPS) if found else None


def _exposure(last: Tried, want: Advice, correction: Estimate | None) -> float:
    """Return how much more than the last plate the next should get [stops].

    Where nobody knows what the earlier plates got, only the last one tells.
    """
    if correction is None or last.exposed_stops is None:
        return want.exposure_stops
    return correction.value - last.exposed_stops


def _is_firm(equivalent_s: Estimate, correction: Estimate | None) -> bool:
    middle = equivalent_s.value
    times = _agree(equivalent_s, FIRM_SHARE * middle, SCATTERED_SHARE * middle)
    return times and (correction is None or _agree(correction, FIRM_STOPS, SCATTERED_STOPS))


def _agree(found: Estimate, most_doubt: float, most_scatter: float) -> bool:
    enough = found.plates >= FIRM_PLATES and found.doubt <= most_doubt
    return enough and found.scatter is not None and found.scatter <= most_scatter
