"""Plates by their names: the right area, and no guess where a name means two sizes."""

from __future__ import annotations

import pytest

from firmware_py.craft.plate_sizes import PLATE_SIZES, read_plate_size
from firmware_py.craft.refusal import Refused


@pytest.mark.parametrize(
    ("text", "area_cm2"),
    [
        ("quarter plate", 3.25 * 4.25 * 6.4516),
        ("English half plate", 4.75 * 6.5 * 6.4516),
        ("u.s. half plate", 4.25 * 5.5 * 6.4516),
        ("US half plate", 4.25 * 5.5 * 6.4516),
        ("Whole  plate", 6.5 * 8.5 * 6.4516),
        ("4 x 5 in", 20 * 6.4516),
        ("9 × 12 cm", 108.0),
        ("13x18cm", 234.0),
        ("4 3/4 x 6 1/2 in", 4.75 * 6.5 * 6.4516),
        ("250 cm2", 250.0),
    ],
)
def test_a_plate_has_the_area_of_its_sides(text, area_cm2):
    assert read_plate_size(text, where="plate").area_cm2 == pytest.approx(area_cm2, rel=1e-9)


def test_a_half_plate_is_asked_which():
    """The English one has a third more gelatin than the U.S. one."""
    with pytest.raises(Refused, match=r"two sizes; allowed: English half plate, or U\.S\. half plate"):
        read_plate_size("half plate", where="plate")
    english, american = (PLATE_SIZES[f"{land} half plate"].area_cm2 for land in ("English", "U.S."))
    assert english / american == pytest.approx(1.321, abs=1e-3)


@pytest.mark.parametrize("text", ["", "postcard", "0 cm2", "3 m2", "9 x 12", "-5 cm2", "9 ml"])
def test_what_is_no_plate_is_refused(text):
    with pytest.raises(Refused, match="plate"):
        read_plate_size(text, where="plate")


@pytest.mark.parametrize("name", PLATE_SIZES)
def test_every_name_is_read_back(name):
    assert read_plate_size(name, where="plate") == PLATE_SIZES[name]
