"""Density, heat and ice against IAPWS-95, IAPWS-06 (library iapws 1.5.5) and a worked example."""

import pytest
from iapws import IAPWS95
from iapws._iapws import _Ice

from firmware_py.craft.tempering import blended, ice_g
from firmware_py.craft.water import (
    ICE_J_PER_G_K,
    MELTING_J_PER_G,
    WATER_J_PER_G_K,
    water_density_g_per_ml,
    water_grams,
)

ATMOSPHERE_MPA = 0.101325


def water(bath_degC):
    return IAPWS95(T=bath_degC + 273.15, P=ATMOSPHERE_MPA)


@pytest.mark.parametrize("bath_degC", [0.1, 4, 10, 15, 20, 25, 40, 60, 80, 99])
def test_density_is_kells_and_agrees_with_iapws_95(bath_degC):
    """Tolerance 0.00002 g/ml: Kell is on IPTS-68, which is 0.025 K off at 99 degC, 0.015 kg/m3 of density."""
    assert water_density_g_per_ml(bath_degC) == pytest.approx(water(bath_degC).rho / 1000, abs=2e-5)


def test_a_misprinted_coefficient_in_the_copy_that_was_read_would_show():
    """The on-line copy of Jones & Harris 1992 has 16.897850e-3 for Kell's 16.879850e-3."""
    t = 20.0
    misprinted = water_density_g_per_ml(t) * (1 + 16.879850e-3 * t) / (1 + 16.897850e-3 * t)
    assert abs(misprinted - water(t).rho / 1000) > 2e-4


@pytest.mark.parametrize("bath_degC", [10, 20, 40, 60])
def test_the_heat_capacity_is_that_of_water_between_ten_and_sixty(bath_degC):
    assert water(bath_degC).cp == pytest.approx(WATER_J_PER_G_K, rel=0.004)


def test_the_heats_of_ice():
    """IAPWS-06 at 0.101325 MPa; the heat capacity is the mean from -20 to 0 degC."""
    ice, cold_ice = _Ice(273.15, ATMOSPHERE_MPA), _Ice(253.15, ATMOSPHERE_MPA)
    assert water(0.0001).h - ice["h"] == pytest.approx(MELTING_J_PER_G, abs=0.1)
    assert (ice["h"] - cold_ice["h"]) / 20 == pytest.approx(ICE_J_PER_G_K, rel=0.01)


@pytest.mark.parametrize(("hot", "cold", "wanted"), [(60, 10, 20), (50, 15, 20), (80, 5, 20), (90, 10, 24)])
def test_a_blend_by_one_heat_capacity_is_within_three_hundredths_of_a_kelvin(hot, cold, wanted):
    made = blended(1000, wanted, hot_degC=hot, cold_degC=cold)
    enthalpy = (made.hot_g * water(hot).h + made.cold_g * water(cold).h) / (made.hot_g + made.cold_g)
    off_K = (enthalpy - water(wanted).h) / water(wanted).cp
    assert abs(off_K) < 0.03


def test_hot_and_cold_one_to_four():
    """Worked in references.md: 10 and 60 to 20 degC is 1 : 4 by mass."""
    made = blended(500, 20, hot_degC=60, cold_degC=10)
    assert made.cold_to_hot == pytest.approx(4.0)
    assert made.hot_ml == pytest.approx(0.2 * 500 * water(20).rho / water(60).rho, rel=1e-4)


def test_ice_against_enthalpies():
    """A litre from 24 to 20 degC with ice of -18 degC, by IAPWS enthalpies: same grams within 0.5 %."""
    litre_g = water_grams(1000, 24)
    enthalpy_given = litre_g * (water(24).h - water(20).h)
    taken_per_g = water(20).h - _Ice(255.15, ATMOSPHERE_MPA)["h"]
    assert ice_g(1000, 24, 20, -18) == pytest.approx(enthalpy_given / taken_per_g, rel=0.005)
