"""What to change for the next plate, after one that came out hard or flat, thin or dense."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from firmware_py.craft.contrast import Growth
from firmware_py.craft.refusal import Refused
from firmware_py.craft.verdict import CONTRASTS, WEIGHTS, Contrast, Density

LOG_OF_A_STOP = math.log10(2)
# Where no growth of this plate was measured: common practice, no source.
SHORTER, LONGER = 0.75, 1.35
# By how much gamma should change where it was: common practice, no source.
SOFTER, HARDER = 0.8, 1.25
# A visible shadow with detail lies this far over fog: common practice, no source.
SHADOW_OVER_FOG = 0.15


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do next: the equivalent time [s], its change [s], the exposure's change [stops], and why.

    Source: own, from the sources named in ``reason`` and in this room.
    """

    equivalent_s: float
    change_s: float
    exposure_stops: float
    reason: str


# (contrast, weight) -> (way of development, stops, why).
# Sources of the diagnoses: Practical Photography, par. 299 (under-exposure: thin shadows, strong high lights;
# under-development: the whole plate thin but full of detail; over-exposure: flat) and par. 323-325 (an
# under-exposed plate wants less development); U.S. Navy training course 14209 (hard: usually
# over-developed; flat: under-developed). How many stops: common practice, no source.
_BY_EYE: Mapping[tuple[str, str], tuple[int, float, str]] = MappingProxyType(
    {
        ("right", "right"): (0, 0.0, "nothing to change"),
        ("right", "thin"): (0, 1.0, "the scale is right but lies too low on the curve: under-exposed"),
        ("right", "dense"): (0, -1.0, "the scale is right but lies too high on the curve: over-exposed"),
        ("hard", "right"): (-1, 1 / 3, "over-developed; the shadows lose a little with shorter development"),
        ("hard", "thin"): (-1, 1.0, "strong high lights over empty shadows: under-exposed, then forced"),
        ("hard", "dense"): (-1, 0.0, "all is dense and the high lights most: over-developed"),
        ("flat", "right"): (1, -1 / 3, "under-developed; the shadows gain a little with longer development"),
        ("flat", "thin"): (1, 0.0, "thin all over but full of detail: under-developed"),
        ("flat", "dense"): (1, -1.0, "dense, full of detail, without sparkle: over-exposed and held back"),
    }
)


def advice_by_eye(contrast: Contrast, weight: Density, time_s: float, growth: Growth | None = None) -> Advice:
    """Return what to change after a plate judged by eye, developed for ``time_s`` [s] of equivalent time.

    Exposure makes the shadows, development the high lights. With the plate's measured ``growth`` the new
    time is the one for a gamma a fifth lower or a quarter higher, else a quarter shorter or a third longer.
    "Rather" asks for half of it: between the nine plain judgements the amounts are straight lines.
    Refuses words it does not know. Source: diagnoses as listed in this room; amounts: common practice, no
    source.
    """
    _check_time(time_s)
    if contrast not in CONTRASTS or weight not in WEIGHTS:
        raise Refused(
            f'"{contrast}, {weight}"',
            where="after",
            allowed="hard, right or flat; thin, right or dense; each but right also with rather",
        )
    way, stops = _between(CONTRASTS[contrast], WEIGHTS[weight])
    reason = _BY_EYE[contrast.removeprefix("rather "), weight.removeprefix("rather ")][2]
    new_s = _other_time(way, time_s, growth)
    return Advice(new_s, new_s - time_s, stops, reason)


def advice_by_measure(
    growth: Growth,
    time_s: float,
    *,
    got_range: float,
    wanted_range: float,
    shadow_over_fog: float | None = None,
    wanted_shadow: float = SHADOW_OVER_FOG,
) -> Advice:
    """Return what to change after a plate whose densities were measured.

    ``got_range`` and ``wanted_range`` are density ranges from shadow to high light; gamma must change in
    their ratio. ``shadow_over_fog`` is the density of the thinnest shadow that should show detail; with the
    new gamma it becomes more or less, and exposure makes up the rest along the straight part: in the toe it
    needs more. Refuses ranges that the plate can not give.
    Source: the inertia stays the same at every development (Hurter & Driffield, told by Ives, Airplane
    Photography, 1920), so densities over fog grow as gamma; own.
    """
    _check_time(time_s)
    for name, value in (("got range", got_range), ("wanted range", wanted_range)):
        if not 0 < value <= 4:
            raise Refused(f"a {name} of {value:g}", where="range", allowed="above 0, to 4")
    ratio = wanted_range / got_range
    gamma = growth.gamma_at(time_s) * ratio
    new_s = growth.time_for(gamma)
    stops = 0.0 if shadow_over_fog is None else _stops(shadow_over_fog, wanted_shadow, ratio, gamma)
    return Advice(new_s, new_s - time_s, stops, _why(ratio, stops, gamma))


def _between(contrast: float, weight: float) -> tuple[float, float]:
    """Return way and stops at a place between the nine plain judgements, by straight lines."""
    way = stops = 0.0
    for name, at in (("flat", -1), ("right", 0), ("hard", 1)):
        for heavy, on in (("thin", -1), ("right", 0), ("dense", 1)):
            share = max(0.0, 1 - abs(contrast - at)) * max(0.0, 1 - abs(weight - on))
            way += share * _BY_EYE[name, heavy][0]
            stops += share * _BY_EYE[name, heavy][1]
    return way, stops


def _other_time(way: float, time_s: float, growth: Growth | None) -> float:
    if way == 0:
        return time_s
    if growth is None:
        return time_s * float((SHORTER if way < 0 else LONGER) ** abs(way))
    ratio: float = (SOFTER if way < 0 else HARDER) ** abs(way)
    return growth.time_for(growth.gamma_at(time_s) * ratio)


def _stops(shadow: float, wanted_shadow: float, ratio: float, gamma: float) -> float:
    if not 0 <= shadow <= 4:
        raise Refused(f"a shadow of {shadow:g} over fog", where="shadow", allowed="0 to 4")
    return (wanted_shadow - shadow * ratio) / gamma / LOG_OF_A_STOP


def _why(ratio: float, stops: float, gamma: float) -> str:
    contrast = (
        f"the range must become {ratio:.2f} times as long: gamma {gamma:.2f}"
        if abs(ratio - 1) >= 0.02
        else f"the range is right at gamma {gamma:.2f}"
    )
    if abs(stops) < 0.1:
        return f"{contrast}; the shadows need no other exposure"
    return f"{contrast}; the shadows then want {'more' if stops > 0 else 'less'} exposure"


def _check_time(time_s: float) -> None:
    if not (math.isfinite(time_s) and time_s > 0):
        raise Refused(f"{time_s:g} s", where="time", allowed="more than 0 s")
