"""The curve through measured points goes through them and never turns between them."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.monotone import monotone_curve
from firmware_py.craft.refusal import Refused

rises = st.lists(
    st.tuples(st.floats(min_value=0.1, max_value=5), st.floats(min_value=0, max_value=3)),
    min_size=1,
    max_size=12,
)


def points_of(steps):
    x = y = 0.0
    points = [(x, y)]
    for dx, dy in steps:
        x, y = x + dx, y + dy
        points.append((x, y))
    return points


@settings(max_examples=50)
@given(steps=rises)
def test_the_curve_meets_every_point_and_never_falls(steps):
    points = points_of(steps)
    curve = monotone_curve(points)
    for x, y in points:
        assert curve.at(x) == pytest.approx(y, abs=1e-9)
    last = points[-1][0]
    heights = [curve.at(min(last, last * n / 100)) for n in range(101)]
    assert all(b >= a - 1e-9 for a, b in pairwise(heights))


def test_outside_the_points_it_refuses():
    curve = monotone_curve([(0.0, 0.0), (1.0, 2.0)])
    for x in (-0.01, 1.01):
        with pytest.raises(Refused, match="allowed: 0 to 1"):
            curve.at(x)
        with pytest.raises(Refused):
            curve.slope_at(x)


def test_points_that_do_not_go_on_are_refused():
    for points in ([], [(0.0, 1.0)], [(0.0, 1.0), (0.0, 2.0)], [(1.0, 1.0), (0.0, 2.0)]):
        with pytest.raises(Refused):
            monotone_curve(points)
