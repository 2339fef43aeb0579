"""What is left of the fixer after changes of water or in a flow of it, and how much washing that takes.

Both calculations take the gelatine as even with the water around it, so they are the least that could do.
What books ask in practice is more, and never less of it is advised: see `least_changes`, `least_running_s`.
"""

from __future__ import annotations

import math

from firmware_py.craft.molar_mass import molar_mass_g_per_mol
from firmware_py.craft.refusal import Refused

# Thiosulphate that may stay in a plate meant to last: ISO 18917 practice for archival film (seen).
PERMITTED_G_PER_M2 = 0.014
# Running water for half an hour at least (handbooks, seen), whatever the reckoning says.
LEAST_RUNNING_S = 1800.0
# A change of water every five minutes: Clerc, Photography: Theory and Practice, par. 607 (seen; for paper).
LEAST_CHANGE_S = 300.0
# Of plates, six changes of five to six minutes: The Barnet Book of Photography, 1898 (seen). The Wellington
# Photographic Handbook p. 29 (seen) has a dozen of a couple of minutes instead: about as long.
LEAST_CHANGES = 6
# After alum "very much longer", with no figure: The Barnet Book (seen). Twice: own judgement.
TIMES_AFTER_ALUM = 2
MOST_CHANGES = 100
CM2_PER_M2 = 10_000.0


def thiosulphate_g_per_l(hypo_g_per_l: float) -> float:
    """Return the thiosulphate [g/l] in a fixer of ``hypo_g_per_l`` [g/l] hypo crystals.

    The permitted residue is of thiosulphate, not of crystals. Valid for 0 g/l and more; raises `Refused`
    below. Source: arithmetic on Prohaska et al. 2022.
    """
    share = molar_mass_g_per_mol("S2O3") / molar_mass_g_per_mol("Na2S2O3·5H2O")
    return _positive(hypo_g_per_l, "hypo", "g/l", zero=True) * share


def after_changes_g_per_l(strength_g_per_l: float, carried_ml: float, each_ml: float, changes: int) -> float:
    """Return the strength [g/l] of what the plate carries after so many changes of water.

    ``carried_ml`` [ml] goes with the plate from bath to bath, each change is of ``each_ml`` [ml]:
    c0·(v/(V + v))^n. Valid for volumes above 0 ml and 0 to 100 changes; raises `Refused` outside.
    Source: mass balance (worked in references.md).
    """
    if not 0 <= changes <= MOST_CHANGES:
        raise Refused(f"{changes} changes of water", where="changes", allowed=f"0 to {MOST_CHANGES}")
    return _positive(strength_g_per_l, "strength", "g/l", zero=True) * _kept(carried_ml, each_ml) ** changes


def residue_g_per_m2(strength_g_per_l: float, carried_ml: float, area_cm2: float) -> float:
    """Return what stays on a square metre [g/m²] when ``carried_ml`` [ml] of a strength [g/l] dries on it.

    ``area_cm2`` [cm²] is the coated side. Valid above 0 ml and 0 cm²; raises `Refused` outside.
    Source: mass balance.
    """
    held_g = (
        _positive(strength_g_per_l, "strength", "g/l", zero=True)
        * _positive(carried_ml, "carried", "ml")
        / 1000
    )
    return held_g / (_positive(area_cm2, "area", "cm2") / CM2_PER_M2)


def changes_for_residue(
    strength_g_per_l: float,
    carried_ml: float,
    each_ml: float,
    area_cm2: float,
    *,
    permitted_g_per_m2: float = PERMITTED_G_PER_M2,
) -> int:
    """Return how many changes of ``each_ml`` [ml] leave no more than the permitted residue [g/m²].

    Valid as `after_changes_g_per_l`; raises `Refused` where 100 changes do not do it.
    Source: mass balance; 0.014 g/m²: ISO 18917 practice for archival film.
    """
    start = residue_g_per_m2(strength_g_per_l, carried_ml, area_cm2)
    permitted = _positive(permitted_g_per_m2, "permitted", "g/m2")
    if start <= permitted:
        return 0
    needed = math.log(permitted / start) / math.log(_kept(carried_ml, each_ml))
    # a hair's breadth below a whole number is that number: the logarithms are not exact
    changes = math.ceil(needed - 1e-9)
    if changes > MOST_CHANGES:
        raise Refused(
            f"it would take {changes} changes of water", where="washing", allowed="more water to each"
        )
    return changes


def least_changes(hardened: bool = False) -> int:
    """Return how many changes of `LEAST_CHANGE_S` each print asks for at the least, whatever is calculated.

    ``hardened`` by alum: twice as many. Source: The Barnet Book of Photography; twice: own judgement.
    """
    return LEAST_CHANGES * (TIMES_AFTER_ALUM if hardened else 1)


def least_running_s(hardened: bool = False) -> float:
    """Return how long [s] to wash in running water at the least, whatever is calculated.

    ``hardened`` by alum: twice as long. Source: half an hour: handbooks; twice: own judgement.
    """
    return LEAST_RUNNING_S * (TIMES_AFTER_ALUM if hardened else 1)


def in_flow_g_per_l(
    strength_g_per_l: float, carried_ml: float, tank_ml: float, flow_ml_per_s: float, after_s: float
) -> float:
    """Return the strength [g/l] in a well stirred tank ``after_s`` [s] from putting the plate in.

    The tank holds ``tank_ml`` [ml] of clean water and ``flow_ml_per_s`` [ml/s] runs through it. Valid for
    volumes and flows above 0 and times of 0 s and more; raises `Refused` outside.
    Source: mass balance of a stirred tank.
    """
    start = after_changes_g_per_l(strength_g_per_l, carried_ml, tank_ml, 1)
    time_s = _positive(after_s, "after", "s", zero=True)
    return start * math.exp(-_positive(flow_ml_per_s, "flow", "ml/s") * time_s / (tank_ml + carried_ml))


def flow_time_for_residue_s(
    strength_g_per_l: float,
    carried_ml: float,
    tank_ml: float,
    flow_ml_per_s: float,
    area_cm2: float,
    *,
    permitted_g_per_m2: float = PERMITTED_G_PER_M2,
) -> float:
    """Return the time [s] in the flow until no more than the permitted residue [g/m²] would stay.

    Valid as `in_flow_g_per_l`; raises `Refused` outside. See `least_running_s` for what print asks.
    Source: mass balance of a stirred tank; 0.014 g/m²: ISO 18917 practice for archival film.
    """
    start = residue_g_per_m2(
        after_changes_g_per_l(strength_g_per_l, carried_ml, tank_ml, 1), carried_ml, area_cm2
    )
    permitted = _positive(permitted_g_per_m2, "permitted", "g/m2")
    fill_s = (tank_ml + carried_ml) / _positive(flow_ml_per_s, "flow", "ml/s")
    return fill_s * math.log(start / permitted) if start > permitted else 0.0


def _kept(carried_ml: float, each_ml: float) -> float:
    """Return the part of the strength that one change leaves."""
    carried = _positive(carried_ml, "carried", "ml")
    return carried / (carried + _positive(each_ml, "each change", "ml"))


def _positive(value: float, where: str, unit: str, *, zero: bool = False) -> float:
    if (zero and value == 0) or 0 < value < math.inf:
        return value
    raise Refused(f"{value:g} {unit}", where=where, allowed=f"{'0 or more' if zero else 'above 0'} {unit}")
