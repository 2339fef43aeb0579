"""A chemical formula is counted right, or refused."""

import pytest

from firmware_py.craft.molar_mass import atoms_in, molar_mass_g_per_mol, without_water
from firmware_py.craft.refusal import Refused


def test_atoms_are_counted_through_brackets_and_crystal_water():
    assert atoms_in("KCr(SO4)2·12H2O") == {"K": 1, "Cr": 1, "S": 2, "O": 20, "H": 24}
    assert atoms_in("(C7H9NO)2·H2SO4") == {"C": 14, "H": 20, "N": 2, "O": 6, "S": 1}
    assert atoms_in("C6H3(C(OH)2)2") == {"C": 8, "H": 7, "O": 4}


def test_crystal_water_is_told_from_other_parts_after_a_dot():
    assert without_water("Na2CO3·10H2O") == "Na2CO3"
    assert without_water("Na2CO3·H2O") == "Na2CO3"
    assert without_water("Na2S2O3·5H2O") == "Na2S2O3"
    assert without_water("C6H8N2O·2HCl") == "C6H8N2O·2HCl"


def test_water_of_crystallisation_weighs_what_water_weighs():
    difference = molar_mass_g_per_mol("Na2CO3·10H2O") - molar_mass_g_per_mol("Na2CO3")
    assert difference == pytest.approx(10 * molar_mass_g_per_mol("H2O"), rel=1e-12)


@pytest.mark.parametrize("formula", ["", "Na2CO3·", "Na2CO3)", "(Na2CO3", "na2co3", "Na2-CO3", "H2O 5", "7"])
def test_a_formula_that_can_not_be_read_is_refused(formula):
    with pytest.raises(Refused, match="can not be read"):
        molar_mass_g_per_mol(formula)


def test_an_element_without_a_weight_is_refused():
    with pytest.raises(Refused, match='no atomic weight for "Hg"'):
        molar_mass_g_per_mol("HgCl2")
