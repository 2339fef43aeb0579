"""Bellows, filters and reciprocity: laws of scale, ways back, refusals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft import camera
from firmware_py.craft.refusal import Refused

focal = st.floats(50, 600)
time = st.floats(1e-3, 1e4)


@given(focal, st.floats(0, 3))
def test_bellows_and_magnification_say_the_same(focal_mm, magnification):
    bellows_mm = focal_mm * (1 + magnification)
    factor = camera.extension_factor(magnification)
    assert camera.extension_factor_of_bellows(bellows_mm, focal_mm) == pytest.approx(factor)


@given(focal, st.floats(1.01, 100))
def test_distance_and_bellows_say_the_same(focal_mm, focal_lengths):
    """The lens equation: 1/f = 1/distance + 1/draw."""
    distance_mm = focal_mm * focal_lengths
    draw_mm = 1 / (1 / focal_mm - 1 / distance_mm)
    magnification = camera.magnification_of_distance(distance_mm, focal_mm)
    assert camera.magnification_of_bellows(draw_mm, focal_mm) == pytest.approx(magnification, abs=1e-9)


@given(st.floats(0, 10), st.floats(0.001, 1))
def test_a_longer_draw_needs_more_exposure(magnification, more):
    assert camera.extension_factor(magnification + more) > camera.extension_factor(magnification) >= 1


@given(time, st.floats(0.6, 1))
def test_what_is_needed_is_worth_what_was_wanted(time_s, exponent):
    needed_s = camera.needed_time_s(time_s, exponent=exponent)
    assert camera.working_time_s(needed_s, exponent=exponent) == pytest.approx(time_s)
    assert needed_s >= time_s * (1 - 1e-12)


@given(time, st.floats(1.001, 10))
def test_longer_wanted_is_longer_needed(time_s, times):
    assert camera.needed_time_s(time_s * times) > camera.needed_time_s(time_s)


def test_short_exposures_and_an_exponent_of_one_change_nothing():
    assert camera.needed_time_s(0.25) == 0.25
    assert camera.needed_time_s(40, exponent=1) == 40


@given(st.lists(st.floats(1, 16), max_size=3))
def test_filters_together_add_their_stops(factors):
    stops = sum(camera.stops_of_factor(factor) for factor in factors)
    assert camera.stops_of_factor(camera.filter_factor(factors)) == pytest.approx(stops, abs=1e-9)


@pytest.mark.parametrize(
    "call",
    [
        lambda: camera.extension_factor(-0.1),
        lambda: camera.extension_factor(float("nan")),
        lambda: camera.magnification_of_bellows(150, 165),
        lambda: camera.magnification_of_bellows(0, 165),
        lambda: camera.magnification_of_distance(165, 165),
        lambda: camera.filter_factor([0.5]),
        lambda: camera.needed_time_s(0),
        lambda: camera.needed_time_s(10, exponent=1.2),
        lambda: camera.needed_time_s(10, break_s=0),
        lambda: camera.working_time_s(float("inf")),
        lambda: camera.stops_of_factor(0),
    ],
)
def test_what_can_not_be_is_refused(call):
    with pytest.raises(Refused, match="allowed"):
        call()
