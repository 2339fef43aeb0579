"""A drifting bath is forecast from its last readings, and the forecast says how sure it is."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft import temperature as craft
from firmware_py.craft.refusal import Refused

RATE = craft.CoefficientRate(math.log(2.4) / 10, 20.0)


def cooling(start_degC, room_degC, constant_s):
    return lambda time_s: room_degC + (start_degC - room_degC) * math.exp(-time_s / constant_s)


def readings_of(bath, seconds, seed=1):
    """Readings once a second by a probe with steps of 1/16 degC and noise of 0.03 K."""
    dice = random.Random(seed)
    return [(float(t), round((bath(t) + dice.gauss(0, 0.03)) * 16) / 16) for t in range(seconds)]


@settings(max_examples=40, deadline=None)
@given(
    start=st.floats(min_value=15, max_value=25),
    room=st.floats(min_value=10, max_value=28),
    constant_s=st.floats(min_value=400, max_value=8000),
)
def test_an_exact_newton_bath_is_forecast_to_a_twentieth_of_a_degree(start, room, constant_s):
    bath = cooling(start, room, constant_s)
    drift = craft.fit_drift([(float(t), bath(t)) for t in range(0, 240, 2)], room)
    for ahead_s in (0, 60, 300, 600):
        assert drift.at(238 + ahead_s)[0] == pytest.approx(bath(238 + ahead_s), abs=0.05)


@pytest.mark.parametrize(
    ("start", "room", "constant_s"),
    [(20, 15, 1800), (20, 15, 600), (18, 24, 1800), (20, 20, 1800), (20, 19, 5000)],
)
@pytest.mark.parametrize("seconds", [30, 60, 120, 300])
def test_a_real_probes_forecast_is_inside_its_tolerance(start, room, constant_s, seconds):
    """Two standard deviations hold in at least 19 of 20 of ten seeds, here: in nine of ten or more."""
    bath = cooling(start, room, constant_s)
    for known_room in (room, None):
        if known_room is None and constant_s == 600:
            continue  # without the room, a minute of readings can not know how soon the fall will slow down
        missed = 0
        for seed in range(10):
            drift = craft.fit_drift(readings_of(bath, seconds, seed), known_room)
            forecast, tolerance_K = drift.at(seconds + 300)
            missed += abs(forecast - bath(seconds + 300)) > tolerance_K
        assert missed <= 1


def test_after_two_minutes_five_more_are_known_to_a_quarter_of_a_degree():
    drift = craft.fit_drift(readings_of(cooling(20, 15, 1800), 120), 15.0)
    forecast, tolerance_K = drift.at(420.0)
    assert forecast == pytest.approx(cooling(20, 15, 1800)(420), abs=0.1)
    assert tolerance_K < 0.25


def test_one_step_of_the_probe_is_no_trend():
    drift = craft.fit_drift([(0.0, 20.0), (1.0, 20.0625)])
    assert drift.at(301.0)[0] == pytest.approx(20.03, abs=0.2)


def test_one_reading_and_no_room_stays_where_it_is():
    forecast, tolerance_K = craft.fit_drift([(50.0, 19.5)]).at(50.0)
    assert forecast == 19.5
    assert tolerance_K < 0.1


def test_a_bath_that_warms_against_the_room_follows_its_own_trend():
    """A jacket warms the tray while the room is cold: the readings are believed."""
    drift = craft.fit_drift([(float(t), 18 + 0.002 * t) for t in range(300)], 12.0)
    assert drift.at(360.0)[0] == pytest.approx(18.72, abs=0.05)


def test_a_trend_dies_away_and_never_runs_off():
    drift = craft.fit_drift([(float(t), 20 - 0.005 * t) for t in range(0, 240, 5)])
    assert drift.at(1e7)[0] > 19 - 0.005 * 10800 - 1
    assert math.isfinite(drift.at(1e9)[1])


@settings(max_examples=40, deadline=None)
@given(
    readings=st.lists(st.floats(min_value=-10, max_value=60), min_size=1, max_size=60),
    gap_s=st.sampled_from([0.0, 0.5, 1.0, 10.0, 600.0]),
    room=st.one_of(st.none(), st.floats(min_value=-20, max_value=45)),
)
def test_any_readings_give_a_finite_forecast_that_grows_less_sure(readings, gap_s, room):
    drift = craft.fit_drift([(gap_s * n, bath) for n, bath in enumerate(readings)], room)
    ahead = [drift.at(drift.to_s + ahead_s) for ahead_s in (0, 30, 120, 600, 3600)]
    assert all(math.isfinite(bath) and math.isfinite(tolerance_K) for bath, tolerance_K in ahead)
    tolerances = [tolerance_K for _, tolerance_K in ahead]
    assert tolerances[0] > 0
    assert tolerances[-1] > tolerances[0]


@pytest.mark.parametrize(
    ("readings", "said"),
    [([], "no reading"), ([(0.0, math.nan)], "no number"), ([(5.0, 20.0), (4.0, 20.0)], "backwards")],
)
def test_readings_that_cannot_be_are_refused(readings, said):
    with pytest.raises(Refused, match=said):
        craft.fit_drift(readings)


@settings(max_examples=40, deadline=None)
@given(wanted_s=st.floats(min_value=0.1, max_value=1500), start=st.floats(min_value=12, max_value=27))
def test_the_time_left_along_a_drift_does_what_is_wanted(wanted_s, start):
    bath = cooling(start, 16, 900)
    drift = craft.fit_drift([(float(t), bath(t)) for t in range(0, 120, 2)], 16.0)
    left_s = craft.time_left_along(RATE, wanted_s, drift, 118.0)
    ticks = [118 + left_s * n / 2000 for n in range(2001)]
    done_s = craft.equivalent_time(RATE, [(t, drift.at(t)[0]) for t in ticks])
    assert done_s == pytest.approx(wanted_s, rel=1e-4)


def test_a_cooling_bath_needs_longer_than_its_present_temperature_says():
    drift = craft.fit_drift(readings_of(cooling(20, 12, 1200), 120), 12.0)
    now_degC = drift.at(120.0)[0]
    assert craft.time_left_along(RATE, 300, drift, 120.0) > 1.03 * craft.time_left(RATE, 300, now_degC)
    assert craft.time_left_along(RATE, 0, drift, 120.0) == 0.0
