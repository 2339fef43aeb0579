"""Speed scales against numbers in print."""

import pytest

from firmware_py.craft import speed

# M. J. Martin, Wireless Transmission of Photographs, 2nd ed. 1919 (seen): H&D, Watkins, Wynne F.
# Watkins printed cut to whole numbers: within 1. Wynne printed cut too, its last row one too low: within 1.5.
# The rows for H&D 20 and 160 are misprints and are left out.
MARTIN = [(100, 147, 77), (200, 294, 109), (400, 588, 154)]


@pytest.mark.parametrize(("hd", "watkins", "wynne"), MARTIN)
def test_the_table_of_1919(hd, watkins, wynne):
    assert speed.convert_speed(hd, "hd", "watkins") == pytest.approx(watkins, abs=1)
    assert speed.convert_speed(hd, "hd", "wynne") == pytest.approx(wynne, abs=1.5)


def test_his_worked_example_of_an_inertia_of_one_fifth():
    """The same book (seen): inertia 1/5 is H&D 170, Watkins 250, Wynne F 101 (cut)."""
    assert speed.hd_from_inertia(0.2) == pytest.approx(170)
    assert speed.watkins_from_inertia(0.2) == pytest.approx(250)
    assert speed.wynne_from_inertia(0.2) == pytest.approx(101, abs=1)


def test_scheiner_degrees_as_defined():
    """A handbook (seen): 19 degrees are a hundred times, 3 degrees 2.069 times."""
    assert speed.ratio_of_scheiner(1, 20) == pytest.approx(100)
    assert speed.ratio_of_scheiner(10, 13) == pytest.approx(2.069, abs=0.0005)


def test_logarithmic_degrees_as_defined():
    """V. Setälä's definition as quoted in the PyNomo manual (seen): DIN = 10 log10 S + 1."""
    assert speed.iso_degrees_from_iso(100) == pytest.approx(21)
    assert speed.iso_from_iso_degrees(4) == pytest.approx(2, abs=0.005)
