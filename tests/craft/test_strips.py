"""Test strips: both ways of making them, what was really given, and reading between patches."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.craft.strips import (
    METHODS,
    given_s,
    increments_s,
    place_of,
    say_stops,
    strip_about,
    strip_from,
    time_at_s,
)

FEW = settings(max_examples=60, deadline=None)
methods = st.sampled_from(METHODS)
strips = st.builds(strip_from, st.floats(0.1, 30.0), st.floats(0.05, 1.0), st.integers(2, 9), methods)


def test_seven_patches_of_a_third_of_a_stop_from_four_seconds_end_at_sixteen():
    strip = strip_from(4.0, 1 / 3, 7)
    assert strip.times_s == pytest.approx([4.0, 5.0397, 6.3496, 8.0, 10.0794, 12.6992, 16.0], abs=5e-5)
    assert strip.increments_s == pytest.approx(
        [4.0, 1.0397, 1.3099, 1.6504, 2.0794, 2.6198, 3.3008], abs=5e-5
    )


def test_uncovering_gives_the_first_patch_most_and_ends_with_the_least():
    strip = strip_from(4.0, 1.0, 3, "uncovering")
    assert strip.times_s == (16.0, 8.0, 4.0)
    assert strip.increments_s == (8.0, 4.0, 4.0)


@FEW
@given(strips)
def test_exposing_the_increments_gives_every_patch_its_time(strip):
    assert given_s(strip.increments_s, strip.method) == pytest.approx(strip.times_s, rel=1e-12)


@FEW
@given(strips)
def test_a_strip_costs_no_more_lamp_than_its_longest_patch(strip):
    assert math.fsum(strip.increments_s) == pytest.approx(max(strip.times_s), rel=1e-12)


@FEW
@given(strips)
def test_neighbouring_patches_stand_one_step_apart(strip):
    steps = [abs(math.log2(b / a)) for a, b in zip(strip.times_s, strip.times_s[1:], strict=False)]
    assert steps == pytest.approx([steps[0]] * len(steps), abs=1e-9)


@FEW
@given(strips, st.floats(0.1, 4.0))
def test_a_strip_scales_with_its_first_patch(strip, times):
    step = abs(math.log2(strip.times_s[1] / strip.times_s[0]))
    larger = strip_from(min(strip.times_s) * times, step, len(strip.times_s), strip.method)
    assert larger.increments_s == pytest.approx([time_s * times for time_s in strip.increments_s], rel=1e-6)


@FEW
@given(strips, st.floats(0.0, 1.0))
def test_a_time_read_between_patches_is_found_again_at_its_place(strip, share):
    place = 1 + share * (len(strip.times_s) - 1)
    assert place_of(strip.times_s, time_at_s(strip.times_s, place)) == pytest.approx(place, abs=1e-6)


def test_half_way_between_two_patches_is_half_a_step():
    times_s = strip_from(4.0, 1.0, 4).times_s
    assert time_at_s(times_s, 2.5) == pytest.approx(8.0 * math.sqrt(2.0))
    assert time_at_s(times_s, 4) == 32.0


@FEW
@given(st.floats(1.0, 60.0), st.floats(0.05, 1.0), st.integers(1, 5), methods)
def test_a_strip_about_a_time_has_that_time_in_its_middle(middle, step, half, method):
    strip = strip_about(middle, step, 2 * half + 1, method)
    assert strip.times_s[half] == pytest.approx(middle)


def test_a_strip_stopped_short_is_read_by_its_measured_times():
    """The person lifted the foot early in the second exposure: the later patches all have less."""
    assert given_s([4.0, 0.5, 1.31], "covering") == (4.0, 4.5, 5.8100000000000005)
    assert given_s([8.0, 3.5, 4.0], "uncovering") == (15.5, 7.5, 4.0)


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        ((0.0, 1 / 3, 7), "shortest patch"),
        ((math.nan, 1 / 3, 7), "shortest patch"),
        ((4.0, 0.0, 7), "step"),
        ((4.0, -1 / 3, 7), "step"),
        ((4.0, 5.0, 7), "step"),
        ((4.0, math.nan, 7), "step"),
        ((4.0, 1 / 3, 1), "patches"),
        ((4.0, 1 / 3, 25), "patches"),
        ((4.0, 4.0, 20), "longest patch"),
        ((1e300, 4.0, 24), "longest patch"),
        ((4.0, 1 / 3, 7, "sideways"), "covering or uncovering"),
    ],
)
def test_a_strip_that_cannot_be_made_is_refused_by_name(arguments, name):
    with pytest.raises(Refused, match=name):
        strip_from(*arguments)


@pytest.mark.parametrize(
    ("times", "method"),
    [((4.0, 4.0), "covering"), ((8.0, 4.0), "covering"), ((4.0, 8.0), "uncovering"), ((), "covering")],
)
def test_patches_in_the_wrong_order_for_the_method_are_refused(times, method):
    with pytest.raises(Refused):
        increments_s(times, method)


@pytest.mark.parametrize("place", [0.9, 7.1, math.nan])
def test_no_time_is_read_beside_the_strip(place):
    with pytest.raises(Refused, match="1 to 7"):
        time_at_s(strip_from(4.0, 1 / 3, 7).times_s, place)


@pytest.mark.parametrize("time_s", [3.9, 16.1, math.nan])
def test_no_place_is_found_for_a_time_that_the_strip_did_not_give(time_s):
    with pytest.raises(Refused, match="4 to 16"):
        place_of(strip_from(4.0, 1.0, 3).times_s, time_s)


def test_an_exposure_of_nothing_is_not_a_patch():
    with pytest.raises(Refused, match="exposure"):
        given_s([4.0, 0.0], "covering")


@pytest.mark.parametrize(
    ("stops", "said"),
    [
        (1 / 3, "1/3 stop"),
        (1.0, "1 stop"),
        (1.5, "1 1/2 stops"),
        (2.0, "2 stops"),
        (1 / 12, "1/12 stop"),
        (0.37, "0.37 stop"),
        (-2 / 3, "-2/3 stop"),
        (0.0, "0 stop"),
    ],
)
def test_stops_are_said_in_the_parts_that_a_darkroom_uses(stops, said):
    assert say_stops(stops) == said
