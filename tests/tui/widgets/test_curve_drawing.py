"""The curve of a run in half blocks: where it stands, its marks, its minutes, and a guessed part in grey."""

from __future__ import annotations

import pytest

from firmware_py.service.book_questions import CurveMarkView, CurvePointView, CurveView
from tui.widgets.curve_drawing import drawn


def curve(*points: tuple[float, float], guessed: bool = False, marks: tuple[float, ...] = ()) -> CurveView:
    return CurveView(
        title="Develop",
        points=tuple(
            CurvePointView(elapsed_s=at, bath_degC=degC, equivalent_s=at, read=not guessed)
            for at, degC in points
        ),
        marks=tuple(CurveMarkView(number=n, elapsed_s=at) for n, at in enumerate(marks, 1)),
        reference_degC=20.0,
        target_s=300.0,
    )


FALLING = curve(*((3.0 * n, 20.0 - 0.02 * n) for n in range(101)), marks=(150.0,))


def test_a_falling_bath_falls_from_the_top_left_to_the_bottom_right():
    rows = drawn([FALLING], 46, 9)
    assert [len(row) for row in rows] == [46] * 9
    columns = [next(row.index(sign) for sign in "▀▄█" if sign in row) for row in rows[:-1]]
    assert columns == sorted(columns)
    assert rows[0][6] in "▀▄█"
    assert rows[-2][-1] in "▀▄█"
    assert (rows[0].split()[0], rows[-2].split()[0]) == ("20.1", "17.9")
    assert rows[-1].split() == ["0", "min", "2", "4"]


def test_a_mark_stands_over_the_curve_at_its_minute():
    rows = drawn([FALLING], 46, 9)
    row = next(n for n, row in enumerate(rows) if "1" in row[6:] and n < 8)
    at = rows[row].index("1", 6)
    assert at == pytest.approx(6 + 20, abs=1)
    assert rows[row + 1][at] in "▀▄█"


def test_what_was_not_read_and_a_second_run_are_grey():
    assert "░" not in "".join(drawn([FALLING], 46, 9))
    guessed = "".join(drawn([curve((0.0, 20.0), (300.0, 18.0), guessed=True)], 46, 9)[:-1])
    assert "░" in guessed
    assert not set("▀▄█") & set(guessed)
    both = "".join(drawn([FALLING, curve((0.0, 18.0), (600.0, 20.0))], 46, 9))
    assert "░" in both
    assert set("▀▄█") & set(both)


@pytest.mark.parametrize(
    ("curves", "width", "height"), [([], 80, 20), ([curve()], 80, 20), ([FALLING], 10, 9), ([FALLING], 80, 2)]
)
def test_where_there_is_nothing_or_no_room_nothing_is_drawn(curves, width, height):
    assert drawn(curves, width, height) == []


@pytest.mark.parametrize("degC", [20.0, 19.99])
def test_a_bath_that_stands_still_is_a_level_line(degC):
    rows = drawn([curve((0.0, degC), (3000.0, degC), marks=(0.0, 3000.0))], 80, 5)
    assert sum(set("▀▄█") & set(row) != set() for row in rows) == 1
    assert drawn([curve((0.0, degC))], 80, 5)
