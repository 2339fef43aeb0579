"""Water brought to a temperature: from hot and cold, by topping up, by ice.

Heat is shared by mass; what the vessel takes is left out, so the thermometer has the last word.
"""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.craft.refusal import Refused
from firmware_py.craft.water import (
    ICE_J_PER_G_K,
    MELTING_J_PER_G,
    WATER_J_PER_G_K,
    checked_water_degC,
    water_density_g_per_ml,
    water_grams,
)

COLDEST_ICE_DEGC = -40.0


@dataclass(frozen=True, slots=True)
class Blend:
    """Hot and cold water [ml] that make the wanted, and what each weighs [g]. Source: own."""

    hot_ml: float
    cold_ml: float
    hot_g: float
    cold_g: float

    @property
    def cold_to_hot(self) -> float:
        """Get the parts of cold to one of hot, by mass. Source: arithmetic."""
        return self.cold_g / self.hot_g if self.hot_g else float("inf")


def blended(volume_ml: float, wanted_degC: float, *, hot_degC: float, cold_degC: float) -> Blend:
    """Return the hot and cold water for ``volume_ml`` [ml] at ``wanted_degC`` [degC].

    By mass, hot : cold = (wanted - cold) : (hot - wanted); each volume is measured at its own
    temperature. Valid for more than 0 ml, 0 to 100 degC, and a wanted temperature from cold to hot;
    raises `Refused` outside. One heat capacity for all water costs less than 0.03 K (checked against iapws).
    Source: conservation of heat; densities as `water_density_g_per_ml`.
    """
    _check_order(wanted_degC, hot_degC, cold_degC)
    if volume_ml <= 0:
        raise Refused(f"{volume_ml:g} ml of water", where="volume", allowed="above 0 ml")
    total_g = water_grams(volume_ml, wanted_degC)
    hot_g = total_g * (wanted_degC - cold_degC) / (hot_degC - cold_degC)
    cold_g = total_g * (hot_degC - wanted_degC) / (hot_degC - cold_degC)
    return Blend(
        hot_g / water_density_g_per_ml(hot_degC), cold_g / water_density_g_per_ml(cold_degC), hot_g, cold_g
    )


def added_ml(volume_ml: float, bath_degC: float, wanted_degC: float, added_degC: float) -> float:
    """Return the water [ml] at ``added_degC`` [degC] that brings ``volume_ml`` [ml] to ``wanted_degC``.

    For a water jacket: a developer would be thinned. Valid where the wanted temperature lies between
    the two and is not that of the added water; raises `Refused` outside.
    Source: conservation of heat; densities as `water_density_g_per_ml`.
    """
    have_g = water_grams(volume_ml, checked_water_degC(bath_degC))
    checked_water_degC(added_degC)
    low, high = sorted((bath_degC, added_degC))
    if wanted_degC == added_degC or not low <= wanted_degC <= high:
        raise Refused(
            f"water at {added_degC:g} degC can not bring {bath_degC:g} degC to {wanted_degC:g} degC",
            where="wanted",
            allowed=f"{low:g} to {high:g} degC, and not {added_degC:g}",
        )
    added_g = have_g * (wanted_degC - bath_degC) / (added_degC - wanted_degC)
    return added_g / water_density_g_per_ml(added_degC)


def ice_g(volume_ml: float, bath_degC: float, wanted_degC: float, ice_degC: float = 0.0) -> float:
    """Return the ice [g] at ``ice_degC`` [degC] that cools ``volume_ml`` [ml] of water to ``wanted_degC``.

    The ice melts in it and warms to the wanted temperature: for a jacket, or in a closed bag. Valid for a
    wanted temperature from 0 degC to the bath's, ice from -40 to 0 degC; raises `Refused` outside.
    Source: conservation of heat; heats of ice and water from IAPWS-06 and IAPWS-95.
    """
    if not COLDEST_ICE_DEGC <= ice_degC <= 0:
        raise Refused(f"ice at {ice_degC:g} degC", where="ice", allowed="-40 to 0 degC")
    water_g = water_grams(volume_ml, checked_water_degC(bath_degC))
    if not 0 <= wanted_degC <= bath_degC:
        raise Refused(
            f"ice can not bring {bath_degC:g} degC to {wanted_degC:g} degC",
            where="wanted",
            allowed=f"0 to {bath_degC:g} degC",
        )
    given_J = water_g * WATER_J_PER_G_K * (bath_degC - wanted_degC)
    taken_J_per_g = -ice_degC * ICE_J_PER_G_K + MELTING_J_PER_G + wanted_degC * WATER_J_PER_G_K
    return given_J / taken_J_per_g


def _check_order(wanted_degC: float, hot_degC: float, cold_degC: float) -> None:
    checked_water_degC(hot_degC, where="hot")
    checked_water_degC(cold_degC, where="cold")
    if hot_degC <= cold_degC:
        raise Refused(f"hot at {hot_degC:g} degC is not hotter than cold at {cold_degC:g} degC", where="hot")
    if not cold_degC <= wanted_degC <= hot_degC:
        raise Refused(
            f"{wanted_degC:g} degC is not between the two",
            where="wanted",
            allowed=f"{cold_degC:g} to {hot_degC:g} degC",
        )
