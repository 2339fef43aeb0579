"""Safe time and a plate's budget."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.craft.safelight import OpenTime, budget, safe_s

FEW = settings(max_examples=50, deadline=None)
times = st.floats(1.0, 5000.0)


@FEW
@given(times, st.floats(1.001, 100.0))
def test_the_safe_time_is_never_as_long_as_the_time_that_shows(no_change, ratio):
    """But from a test with steps wider than 4 times it may be longer than the last step without a change."""
    safe = safe_s(no_change, no_change * ratio)
    assert safe < no_change * ratio / 2
    assert (safe <= no_change) == (ratio <= 4) or math.isclose(ratio, 4)


@FEW
@given(times, st.floats(1.01, 10.0), st.floats(0.01, 100.0))
def test_a_light_twice_as_far_down_has_a_safe_time_as_many_times_longer(no_change, ratio, scale):
    detectable = no_change * ratio
    assert safe_s(no_change * scale, detectable * scale) == pytest.approx(
        scale * safe_s(no_change, detectable)
    )


@pytest.mark.parametrize(
    ("no_change", "detectable"), [(240, 240), (480, 240), (0, 240), (-1, 5), (240, math.inf), (math.nan, 5)]
)
def test_a_test_that_contradicts_itself_is_refused(no_change, detectable):
    with pytest.raises(Refused):
        safe_s(no_change, detectable)


def test_half_the_time_under_each_of_two_lights_uses_a_plate_up():
    used = budget([OpenTime("red", 85.0), OpenTime("amber", 20.0)], {"red": 170.0, "amber": 40.0})
    assert used.used == 1.0
    assert used.state == "used up"
    assert used.left_s(170.0) == 0.0


def test_the_bench_warns_from_three_quarters():
    lights = {"red": 100.0}
    assert budget([OpenTime("red", 74.9)], lights).state == "safe"
    assert budget([OpenTime("red", 75.0)], lights).state == "nearly used up"
    assert budget([OpenTime("red", 100.0)], lights).state == "used up"


@FEW
@given(st.lists(st.floats(0.0, 10.0), max_size=8), st.randoms())
def test_the_order_of_the_openings_does_not_matter(openings, shuffler):
    lights = {"red": 100.0}
    one = budget([OpenTime("red", time_s) for time_s in openings], lights)
    shuffler.shuffle(openings)
    two = budget([OpenTime("red", time_s) for time_s in openings], lights)
    assert two.used == pytest.approx(one.used, rel=1e-12)
    assert one.left_s(100.0) == pytest.approx(100.0 - sum(openings), abs=1e-9)


def test_a_plate_never_opened_has_its_whole_budget():
    assert budget([], {}).left_s(170.0) == 170.0


def test_a_light_that_was_never_tested_is_refused():
    with pytest.raises(Refused, match=r'"green".*red'):
        budget([OpenTime("green", 1.0)], {"red": 100.0})


@pytest.mark.parametrize("time_s", [-1.0, math.nan, math.inf])
def test_an_open_time_that_cannot_be_is_refused(time_s):
    with pytest.raises(Refused, match="open time"):
        budget([OpenTime("red", time_s)], {"red": 100.0})
