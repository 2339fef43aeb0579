"""The printing lamp: lag, on-times, strips, mains half-cycles, distance, voltage."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.lamp import (
    dose_s,
    effective_s,
    half_cycle_s,
    lag_found,
    light_at_voltage,
    on_s,
    rest_on_s,
    strip_on_s,
    time_at_distance_s,
    to_half_cycles,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.simulation import FilamentLamp
from firmware_py.craft.strips import METHODS, given_s, strip_from

FEW = settings(max_examples=60, deadline=None)
lags = st.floats(0.0, 0.2)
mains = st.sampled_from([50.0, 60.0])
strips = st.builds(
    strip_from, st.floats(1.0, 20.0), st.floats(0.2, 1.0), st.integers(2, 9), st.sampled_from(METHODS)
)


def test_ten_short_exposures_that_match_one_long_one_give_the_lag():
    """10 x 0.6 s = 6 s of current, but the light of 5.55 s in one start: 9 more lags cost 0.45 s."""
    assert lag_found(5.55, 0.6, 10).lag_s == pytest.approx(0.05)


@FEW
@given(lags, st.floats(0.3, 2.0), st.integers(2, 50))
def test_a_lag_put_in_is_found(lag_s, short_s, starts):
    long_s = starts * (short_s - lag_s) + lag_s
    assert lag_found(long_s, short_s, starts).lag_s == pytest.approx(lag_s, abs=1e-9)


@FEW
@given(st.floats(0.02, 0.3), st.floats(0.02, 0.3))
def test_the_test_finds_the_lag_of_a_simulated_lamp(rise_s, fall_s):
    lamp = FilamentLamp(rise_s, fall_s)
    short_s, starts = 5 * max(rise_s, fall_s), 12
    wanted = starts * lamp.effective_s(short_s)
    long_s = wanted + lamp.lag_s
    assert lag_found(long_s, short_s, starts).lag_s == pytest.approx(lamp.lag_s, abs=2e-5)
    assert lamp.effective_s(on_s(wanted, lamp.lag_s)) == pytest.approx(wanted, abs=1e-6)


@FEW
@given(st.floats(0.2, 2.0), st.integers(2, 40), st.floats(-0.05, 0.05))
def test_the_uncertainty_covers_a_match_that_was_out_by_what_was_said(short_s, starts, mismatch_stops):
    true_lag_s = 0.04
    long_s = starts * (short_s - true_lag_s) + true_lag_s
    found = lag_found(long_s * math.exp2(mismatch_stops), short_s, starts, read_to_stops=0.06)
    assert abs(found.lag_s - true_lag_s) <= found.uncertain_s


def test_a_coarse_test_does_not_tell_a_small_lag_from_none():
    assert not lag_found(8.0, 1.03, 8).told_from_none
    assert lag_found(5.1, 0.2, 40).told_from_none


@pytest.mark.parametrize(
    ("arguments", "reason"),
    [
        ((1.0, 1.0, 10), "longer than the short"),
        ((0.5, 1.0, 10), "longer than the short"),
        ((8.0, 0.0, 10), "short exposure"),
        ((math.inf, 1.0, 10), "long exposure"),
        ((8.0, 1.0, 1), "starts"),
        ((8.0, 1.0, 201), "starts"),
        ((40.0, 1.0, 3), "equal density"),
        ((8.0, 1.0, 8, -0.1), "read to"),
    ],
)
def test_a_lag_test_that_cannot_be_is_refused(arguments, reason):
    with pytest.raises(Refused, match=reason):
        lag_found(*arguments)


@FEW
@given(st.floats(0.05, 600.0), lags)
def test_the_on_time_gives_the_effective_time_it_was_asked_for(wanted_s, lag_s):
    assert effective_s(on_s(wanted_s, lag_s), lag_s) == pytest.approx(wanted_s, abs=1e-9)


def test_an_exposure_shorter_than_was_ever_tried_is_refused_with_a_way_out():
    with pytest.raises(Refused, match="weaker light"):
        on_s(0.1, 0.05, shortest_s=0.25)
    with pytest.raises(Refused, match="weaker light"):
        on_s(0.1, -0.2)


def test_a_start_shorter_than_the_lag_gives_nothing():
    assert effective_s(0.03, 0.05) == 0.0
    assert effective_s(0.0, -0.05) == 0.0


@FEW
@given(st.lists(st.floats(0.3, 5.0), max_size=5), st.floats(20.0, 60.0), lags)
def test_the_rest_completes_a_broken_exposure(done, extra_s, lag_s):
    wanted_s = dose_s(done, lag_s) + extra_s
    rest_s = rest_on_s(wanted_s, done, lag_s)
    assert dose_s([*done, rest_s], lag_s) == pytest.approx(wanted_s)


def test_a_complete_exposure_has_no_rest():
    assert rest_on_s(5.0, [3.05, 2.05], 0.05) == 0.0
    assert rest_on_s(5.0, [9.0], 0.05) == 0.0
    # A rest is owed however small it is: half a second is a tenth of this exposure.
    assert rest_on_s(5.0, [4.55], 0.05) == pytest.approx(0.55)


@FEW
@given(strips, lags)
def test_every_start_of_a_strip_gets_its_own_lag(strip, lag_s):
    lit_s = [effective_s(time_s, lag_s) for time_s in strip_on_s(strip, lag_s)]
    assert given_s(lit_s, strip.method) == pytest.approx(strip.times_s)


@FEW
@given(strips, lags, mains)
def test_no_patch_of_a_rounded_strip_is_out_by_more_than_half_a_half_cycle(strip, lag_s, mains_Hz):
    times_s = strip_on_s(strip, lag_s, mains_Hz)
    half_s = half_cycle_s(mains_Hz)
    assert all(abs(time_s / half_s - round(time_s / half_s)) < 1e-6 for time_s in times_s)
    got_s = given_s([time_s - lag_s for time_s in times_s], strip.method)
    assert max(abs(a - b) for a, b in zip(got_s, strip.times_s, strict=True)) <= half_s / 2 + 1e-9


def test_a_strip_too_fine_for_the_mains_is_refused():
    with pytest.raises(Refused, match="half-cycle"):
        strip_on_s(strip_from(0.1, 0.02, 5), 0.0, 50.0)


@FEW
@given(st.floats(0.01, 100.0), mains)
def test_rounding_is_never_out_by_more_than_half_a_half_cycle(time_s, mains_Hz):
    rounded = to_half_cycles(time_s, mains_Hz)
    assert abs(rounded.error_s) <= half_cycle_s(mains_Hz) / 2 + 1e-12
    assert rounded.on_s == pytest.approx(time_s + rounded.error_s)
    assert to_half_cycles(rounded.on_s, mains_Hz).half_cycles == rounded.half_cycles


@FEW
@given(st.integers(1, 500), st.floats(0.001, 0.999), mains)
def test_a_zero_crossing_switch_told_whole_half_cycles_gives_them_at_any_phase(count, phase, mains_Hz):
    half_s = half_cycle_s(mains_Hz)
    on_told_s, off_told_s = phase * half_s, phase * half_s + to_half_cycles(count * half_s, mains_Hz).on_s
    conducts_s = (math.ceil(off_told_s / half_s) - math.ceil(on_told_s / half_s)) * half_s
    assert conducts_s == pytest.approx(count * half_s)


@pytest.mark.parametrize(("time_s", "mains_Hz"), [(0.004, 50.0), (1.0, 400.0), (1.0, 0.0), (0.0, 50.0)])
def test_times_and_mains_that_no_switch_can_do_are_refused(time_s, mains_Hz):
    with pytest.raises(Refused):
        to_half_cycles(time_s, mains_Hz)


@FEW
@given(st.floats(0.1, 600.0), st.floats(100.0, 2000.0), st.floats(100.0, 2000.0))
def test_moving_the_lamp_away_and_back_changes_nothing(time_s, near_mm, far_mm):
    there_s = time_at_distance_s(time_s, near_mm, far_mm)
    assert time_at_distance_s(there_s, far_mm, near_mm) == pytest.approx(time_s)


@pytest.mark.parametrize("distance", [0.0, -1.0, math.nan])
def test_a_distance_that_cannot_be_is_refused(distance):
    with pytest.raises(Refused, match="distance"):
        time_at_distance_s(10.0, 500.0, distance)


@FEW
@given(st.floats(0.7, 1.15), st.floats(0.7, 1.15))
def test_more_voltage_is_more_light(one, two):
    less, more = sorted((one, two))
    assert light_at_voltage(less) <= light_at_voltage(more)


@pytest.mark.parametrize("ratio", [0.6, 1.2, math.nan])
def test_a_voltage_outside_the_law_is_refused(ratio):
    with pytest.raises(Refused, match="voltage"):
        light_at_voltage(ratio)


@pytest.mark.parametrize("power", [2.0, 6.0])
def test_the_power_of_the_voltage_goes_from_two_to_six(power):
    assert light_at_voltage(0.95, power) == pytest.approx(0.95**power)
    with pytest.raises(Refused, match="power"):
        light_at_voltage(0.95, 1.99 if power == 2.0 else 6.01)
