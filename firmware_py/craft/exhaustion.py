"""How much a bath has done by area of plate, what it still can do, and how much slower it has become."""

from __future__ import annotations

import math

from firmware_py.craft.refusal import Refused


def area_left_cm2(cm2_per_l: float, volume_ml: float, done_cm2: float) -> float:
    """Return the area [cm²] a bath of ``volume_ml`` [ml] can still do, 0 when it is used up.

    ``cm2_per_l`` [cm²/l] is what a litre does in its life, ``done_cm2`` [cm²] what it has done. Valid
    for a capacity and volume above 0 and 0 cm² or more done; raises `Refused` outside.
    Source: the measure (area before renewal) is that of H. E. Ives, *Airplane Photography*, 1920.
    """
    return max(0.0, _whole_cm2(cm2_per_l, volume_ml) - _done(done_cm2))


def share_done(cm2_per_l: float, volume_ml: float, done_cm2: float) -> float:
    """Return the part of its life a bath has done: 0 fresh, 1 used up, above 1 overworked.

    Valid as `area_left_cm2`. Source: as `area_left_cm2`.
    """
    return _done(done_cm2) / _whole_cm2(cm2_per_l, volume_ml)


def plates_left(left_cm2: float, plate_cm2: float) -> int:
    """Return how many whole plates of ``plate_cm2`` [cm²] fit into the area left [cm²].

    Valid for plates above 0 cm²; raises `Refused` outside. Source: arithmetic.
    """
    if not 0 < plate_cm2 < math.inf:
        raise Refused(f"a plate of {plate_cm2:g} cm2", where="plate", allowed="above 0 cm2")
    # a plate that fits but for the last digit of the sum still fits
    return math.floor(max(0.0, left_cm2) / plate_cm2 + 1e-9)


def lengthened_s(
    time_s: float, done_cm2: float, volume_ml: float, *, longer_percent: float, every_cm2_per_l: float
) -> float:
    """Return the development time [s] in a bath that has done ``done_cm2`` [cm²].

    The time grows by ``longer_percent`` [%] of the fresh time for every ``every_cm2_per_l`` [cm²/l] done,
    in proportion. The rule belongs to the formula. Valid for times and volumes above 0, rules of 0 to
    100 %; raises `Refused` outside, and where the time would more than double.
    Source: common practice, no source; the figures are the formula's or the user's own.
    """
    if not 0 < time_s < math.inf:
        raise Refused(f"{time_s:g} s of development", where="time", allowed="above 0 s")
    if not 0 <= longer_percent <= 100:
        raise Refused(f"{longer_percent:g} % longer", where="longer", allowed="0 to 100 %")
    growth = longer_percent / 100 * share_done(every_cm2_per_l, volume_ml, done_cm2)
    if growth > 1:
        raise Refused(
            f"the bath has done {done_cm2:.0f} cm2 and would need {1 + growth:.1f} times its fresh time",
            where="exhaustion",
            allowed="up to twice the fresh time; mix a new bath",
        )
    return time_s * (1 + growth)


def _whole_cm2(cm2_per_l: float, volume_ml: float) -> float:
    if not 0 < cm2_per_l < math.inf:
        raise Refused(f"a capacity of {cm2_per_l:g} cm2/l", where="capacity", allowed="above 0 cm2/l")
    if not 0 < volume_ml < math.inf:
        raise Refused(f"a bath of {volume_ml:g} ml", where="volume", allowed="above 0 ml")
    return cm2_per_l * volume_ml / 1000


def _done(done_cm2: float) -> float:
    if 0 <= done_cm2 < math.inf:
        return done_cm2
    raise Refused(f"{done_cm2:g} cm2 done", where="done", allowed="0 cm2 or more")
