"""Paper: its two ends, grades, the negative against it, burns and speed."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.paper import (
    GRADES,
    burn_s,
    dodge_s,
    fit,
    grade_of,
    iso_points,
    log_exposure_at,
    log_range_by_eye,
    printing_range,
    time_on_other_paper_s,
)
from firmware_py.craft.refusal import Refused

FEW = settings(max_examples=50, deadline=None)
CURVE = [
    (0.0, 0.05),
    (0.3, 0.07),
    (0.6, 0.25),
    (0.9, 0.80),
    (1.2, 1.50),
    (1.5, 1.90),
    (1.8, 2.00),
    (2.1, 2.00),
]


def test_the_points_lie_where_the_curve_passes_their_densities():
    points = iso_points(CURVE)
    assert points.highlight_density == pytest.approx(0.09)
    assert points.shadow_density == pytest.approx(1.80)
    assert points.highlight_log == pytest.approx(0.3 + 0.3 * 0.02 / 0.18)
    assert points.shadow_log == pytest.approx(1.2 + 0.3 * 0.30 / 0.40)
    assert points.log_range == pytest.approx(1.0916667)
    assert points.iso_range == 110


def test_fog_and_blackest_black_read_elsewhere_take_the_place_of_the_curve_s_own():
    points = iso_points(CURVE, base_fog=0.10, dmax=1.90)
    assert points.highlight_density == pytest.approx(0.14)
    assert points.shadow_density == pytest.approx(1.71)


@FEW
@given(st.floats(-3.0, 3.0))
def test_the_range_does_not_depend_on_where_the_log_exposures_begin(shift):
    moved = [(log + shift, density) for log, density in CURVE]
    assert iso_points(moved).log_range == pytest.approx(iso_points(CURVE).log_range)


@FEW
@given(st.floats(0.2, 3.0))
def test_a_paper_stretched_in_log_exposure_has_its_range_stretched_alike(times):
    stretched = [(log * times, density) for log, density in CURVE]
    assert iso_points(stretched).log_range == pytest.approx(times * iso_points(CURVE).log_range)


@FEW
@given(st.floats(0.06, 1.99))
def test_log_exposure_rises_with_density(density):
    assert log_exposure_at(CURVE, density) <= log_exposure_at(CURVE, density + 0.005)


@pytest.mark.parametrize(
    ("curve", "reason"),
    [
        (CURVE[:2], "three points"),
        ([(0.0, 0.0), (0.0, 1.0), (0.3, 2.0)], "rising log"),
        ([(0.0, 0.0), (0.3, -1.0), (0.6, 2.0)], "density"),
        ([(0.0, 0.0), (math.nan, 1.0), (0.6, 2.0)], "log exposure"),
        ([(0.0, 0.5), (0.3, 0.5), (0.6, 0.5)], "well above the fog"),
        ([(0.0, 0.0), (0.3, 1.9), (0.6, 0.0), (0.9, 1.9)], "2 times"),
    ],
)
def test_a_curve_that_tells_no_range_is_refused(curve, reason):
    with pytest.raises(Refused, match=reason):
        iso_points(curve)


def test_a_curve_that_stops_before_its_shadow_point_is_not_extended():
    with pytest.raises(Refused, match="never"):
        iso_points(CURVE[:4], dmax=2.0)


@pytest.mark.parametrize(
    ("log_range", "grade"), [(0.5, 5), (0.64, 5), (0.65, 4), (1.05, 2), (1.15, 1), (1.4, 0), (1.7, 0)]
)
def test_the_grade_holds_the_range_and_a_bound_is_of_the_softer_one(log_range, grade):
    assert grade_of(log_range) == grade


@FEW
@given(st.floats(0.5, 1.7), st.floats(0.5, 1.7))
def test_a_longer_range_is_never_a_harder_grade(one, two):
    shorter, longer = sorted((one, two))
    assert grade_of(longer) <= grade_of(shorter)


@pytest.mark.parametrize("log_range", [0.49, 1.71, math.nan])
def test_a_range_outside_the_grades_is_refused(log_range):
    with pytest.raises(Refused, match=r"0\.5 to 1\.7"):
        grade_of(log_range)


def test_the_user_s_own_grades_are_taken():
    assert grade_of(1.30, {**GRADES, 1: (1.15, 1.25), 0: (1.25, 1.80)}) == 0


def test_a_wedge_read_by_eye_gives_the_difference_of_its_steps():
    assert log_range_by_eye(1.65, 0.60) == pytest.approx(1.05)
    with pytest.raises(Refused, match="denser step"):
        log_range_by_eye(0.60, 1.65)


def test_the_verdict_says_which_way_the_negative_is_wrong():
    assert fit(1.05, 1.05).verdict == "suits"
    assert fit(1.15, 1.05).verdict == "suits"
    assert fit(1.40, 1.05).verdict == "too hard"
    assert fit(0.70, 1.05).verdict == "too soft"
    assert fit(1.40, 1.05).gamma_times == pytest.approx(0.75)


@FEW
@given(st.floats(0.3, 3.0), st.floats(0.3, 3.0))
def test_a_negative_with_the_advised_gamma_suits(negative, paper):
    assert fit(negative * fit(negative, paper).gamma_times, paper, near_enough=0.0).verdict == "suits"


def test_a_stained_negative_prints_with_more_range_than_the_eye_sees():
    assert printing_range(0.80, 1.45) == pytest.approx(1.16)
    with pytest.raises(Refused, match="stain ratio"):
        printing_range(0.80, 0.9)


def test_a_burn_of_one_stop_is_the_base_time_again():
    assert burn_s(8.0, 1.0) == pytest.approx(8.0)
    assert dodge_s(8.0, 1.0) == pytest.approx(4.0)


@FEW
@given(st.floats(0.1, 600.0), st.floats(0.01, 3.0), st.floats(0.01, 3.0))
def test_two_burns_one_after_the_other_add_their_stops(base, one, two):
    first = burn_s(base, one)
    assert first + burn_s(base + first, two) == pytest.approx(burn_s(base, one + two))


@FEW
@given(st.floats(0.1, 600.0), st.floats(0.01, 6.0))
def test_what_a_dodge_takes_a_burn_of_as_many_stops_gives_back(base, stops):
    left = base - dodge_s(base, stops)
    assert left + burn_s(left, stops) == pytest.approx(base)


@pytest.mark.parametrize("stops", [0.0, -1.0, 6.1, math.nan])
@pytest.mark.parametrize("reckon", [burn_s, dodge_s])
def test_burns_and_dodges_outside_their_range_are_refused(reckon, stops):
    with pytest.raises(Refused, match="stops"):
        reckon(8.0, stops)


@FEW
@given(st.floats(0.1, 600.0), st.floats(1.0, 500.0), st.floats(1.0, 500.0))
def test_changing_the_paper_and_back_changes_nothing(time_s, one, two):
    there = time_on_other_paper_s(time_s, one, two)
    assert time_on_other_paper_s(there, two, one) == pytest.approx(time_s)


def test_a_paper_of_twice_the_speed_needs_half_the_time():
    assert time_on_other_paper_s(10.0, 100.0, 200.0) == 5.0
    with pytest.raises(Refused, match="speed"):
        time_on_other_paper_s(10.0, 0.0, 200.0)
