"""Sizes of the trade's units against the weights-and-measures acts, CODATA as carried by scipy, and pint.

Sources: Weights and Measures Act 1985 (UK), schedule 1, and NIST Handbook 44, appendix C: exact
definitions (grain 64.79891 mg; avoirdupois ounce 437.5 gr; apothecaries' ounce 480 gr, drachm 60,
scruple 20; imperial gallon 4.54609 l; U.S. gallon 231 cubic inches; inch 25.4 mm), as worked in the
project's list of references. Tolerance: floating point only.
"""

import pint
import pytest
import scipy.constants as codata

from firmware_py.craft import unit_words, units
from firmware_py.craft.unit_words import BASE, EVERYDAY, Unit, unit_size, unit_written

GRAIN_G = 0.06479891
IMPERIAL_GALLON_ML = 4546.09
US_GALLON_ML = 231 * 2.54**3


@pytest.mark.parametrize(
    ("written", "exact_g"),
    [
        ("grain", GRAIN_G),
        ("oz avoirdupois", 437.5 * GRAIN_G),
        ("oz apothecary", 480 * GRAIN_G),
        ("drachm", 60 * GRAIN_G),
        ("scruple", 20 * GRAIN_G),
        ("lb", 7000 * GRAIN_G),
        ("oz troy", codata.troy_ounce * 1000),
        ("av oz", codata.oz * 1000),
        ("gr", codata.grain * 1000),
    ],
)
def test_weights_are_the_acts(written, exact_g):
    assert units.read_mass_g(f"1 {written}", where="w") == pytest.approx(exact_g, rel=1e-12)


@pytest.mark.parametrize(
    ("written", "exact_ml"),
    [
        ("imperial gallon", IMPERIAL_GALLON_ML),
        ("imperial pint", IMPERIAL_GALLON_ML / 8),
        ("imperial fl oz", 28.4130625),
        ("imperial fluid drachm", 28.4130625 / 8),
        ("imperial minim", 28.4130625 / 480),
        ("US gallon", US_GALLON_ML),
        ("US pint", US_GALLON_ML / 8),
        ("US fl oz", codata.fluid_ounce_US * 1e6),
        ("US fluid drachm", US_GALLON_ML / 128 / 8),
        ("US minim", US_GALLON_ML / 128 / 480),
    ],
)
def test_measures_are_the_acts(written, exact_ml):
    assert units.read_volume_ml(f"1 {written}", where="w") == pytest.approx(exact_ml, rel=1e-12)


def test_imperial_minim_and_us_fluid_ounce_as_printed():
    """references.md: imperial minim 0.0591939 ml, U.S. fl oz 29.5735 ml (last printed digit)."""
    assert units.read_volume_ml("1 imperial minim", where="w") == pytest.approx(0.0591939, abs=0.5e-7)
    assert units.read_volume_ml("1 US fl oz", where="w") == pytest.approx(29.5735, abs=0.5e-4)


def test_ten_per_cent_by_grains_and_minims_is_more_than_ten_per_cent():
    """48 gr in 480 minims (1 imperial fl oz): 10.95 % w/v (references.md, worked)."""
    grams = units.read_mass_g("48 gr", where="w")
    assert 100 * grams / units.read_volume_ml("1 imperial fl oz", where="w") == pytest.approx(
        10.95, abs=0.005
    )


def test_everyday_sizes_are_pints():
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    kinds = {name: kind for name, (kind, _) in unit_words._WRITTEN.items()}
    for name, size in EVERYDAY.items():
        assert registry.Quantity(1, name).to(BASE[kinds[name]]).magnitude == pytest.approx(size, rel=1e-14)


def test_every_written_unit_is_of_its_kind():
    for name, (kind, ways) in unit_words._WRITTEN.items():
        for way in ways.split(", "):
            assert unit_written(way) == Unit(kind, unit_size(name, kind)), way


def test_temperature_scales_are_pints():
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    for written, name, value in [
        ("degF", "degF", 68.0),
        ("K", "kelvin", 295.0),
        ("degRe", "degree_Reaumur", 16.0),
    ]:
        theirs = registry.Quantity(value, name).to("degC").magnitude
        assert units.read_temperature_degC(f"{value} {written}", where="t") == pytest.approx(theirs, abs=1e-9)
