"""The large digits."""

from __future__ import annotations

from itertools import combinations

import pytest

from tui.widgets.big_time import GLYPH_ROWS, GLYPHS, columns, drawn, rows, scale_for


def test_every_drawing_is_seven_rows_of_one_width():
    for rows_of_dots in GLYPHS.values():
        assert len(rows_of_dots) == GLYPH_ROWS
        assert len({len(row) for row in rows_of_dots}) == 1


def test_any_two_digits_differ_in_at_least_two_dots():
    """One dot lost to a wet pair of glasses must not make another digit of it."""
    digits = [sign for sign in GLYPHS if sign.isdecimal()]
    for one, other in combinations(digits, 2):
        pairs = zip("".join(GLYPHS[one]), "".join(GLYPHS[other]), strict=True)
        differing = sum(a != b for a, b in pairs)
        assert differing >= 2, (one, other)


def test_four_digits_stand_ten_columns_wide_each_beside_the_steps_at_80_by_24():
    assert scale_for("12:34", 52, 7) == 2
    assert columns("12:34", 2) == 50
    assert rows(2) == 7


@pytest.mark.parametrize(("width", "height"), [(10, 7), (52, 2)])
def test_too_little_room_gives_no_drawing(width, height):
    assert scale_for("12:34", width, height) == 0


@pytest.mark.parametrize("scale", [1, 2, 3])
def test_a_drawing_is_as_large_as_said(scale):
    for sign in GLYPHS:
        picture = drawn(sign, scale)
        assert len(picture) == rows(scale)
        assert {len(row) for row in picture} == {len(GLYPHS[sign][0]) * scale}
