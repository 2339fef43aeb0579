"""Water poured together keeps its mass and its heat; ice and trays follow their laws."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.craft.tempering import added_ml, blended, ice_g
from firmware_py.craft.tray import tray_cooling
from firmware_py.craft.water import (
    ICE_J_PER_G_K,
    MELTING_J_PER_G,
    WATER_J_PER_G_K,
    water_density_g_per_ml,
    water_grams,
)

DEGC = st.floats(min_value=0, max_value=100)
ML = st.floats(min_value=1, max_value=50_000)


@given(
    cold=st.floats(min_value=0, max_value=40),
    span=st.floats(min_value=1, max_value=59),
    at=st.floats(0, 1),
    ml=ML,
)
@settings(max_examples=60)
def test_the_blend_has_the_wanted_mass_and_the_wanted_temperature(cold, span, at, ml):
    hot, wanted = cold + span, min(cold + at * span, cold + span)
    made = blended(ml, wanted, hot_degC=hot, cold_degC=cold)
    assert made.hot_g + made.cold_g == pytest.approx(water_grams(ml, wanted), rel=1e-12)
    heat = made.hot_g * (hot - wanted) + made.cold_g * (cold - wanted)
    assert heat == pytest.approx(0, abs=1e-9 * ml * 100)


@given(ml=ML, times=st.floats(min_value=0.1, max_value=10))
@settings(max_examples=30)
def test_a_larger_blend_takes_its_waters_in_proportion(ml, times):
    one = blended(ml, 20, hot_degC=60, cold_degC=10)
    other = blended(ml * times, 20, hot_degC=60, cold_degC=10)
    assert other.hot_ml == pytest.approx(one.hot_ml * times, rel=1e-9)
    assert other.cold_ml == pytest.approx(one.cold_ml * times, rel=1e-9)


def test_a_blend_at_an_end_is_all_hot_or_all_cold():
    assert blended(500, 60, hot_degC=60, cold_degC=10).cold_ml == pytest.approx(0)
    cold = blended(500, 10, hot_degC=60, cold_degC=10)
    assert cold.hot_ml == 0
    assert cold.cold_to_hot == float("inf")


@pytest.mark.parametrize(
    ("wanted", "hot", "cold", "words"),
    [
        (65, 60, 10, "not between"),
        (5, 60, 10, "not between"),
        (20, 10, 60, "not hotter"),
        (20, 20, 20, "not hotter"),
        (20, 101, 10, "hot: water at 101"),
        (20, 60, -1, "cold: water at -1"),
        (float("nan"), 60, 10, "not between"),
    ],
)
def test_a_blend_that_can_not_be_is_refused(wanted, hot, cold, words):
    with pytest.raises(Refused, match=words):
        blended(500, wanted, hot_degC=hot, cold_degC=cold)


@pytest.mark.parametrize("ml", [0, -1, float("inf"), float("nan")])
def test_no_water_is_refused(ml):
    with pytest.raises(Refused, match="ml of water"):
        blended(ml, 20, hot_degC=60, cold_degC=10)


@given(ml=ML, bath=st.floats(10, 30), added=st.floats(35, 90), at=st.floats(0, 0.9))
@settings(max_examples=50)
def test_what_is_added_brings_the_jacket_there(ml, bath, added, at):
    wanted = bath + at * (added - bath)
    more_ml = added_ml(ml, bath, wanted, added)
    had_g, more_g = water_grams(ml, bath), water_grams(more_ml, added)
    assert had_g * bath + more_g * added == pytest.approx((had_g + more_g) * wanted)


def test_water_that_can_not_bring_the_jacket_there_is_refused():
    with pytest.raises(Refused, match="can not bring"):
        added_ml(500, 18, 20, 15)
    with pytest.raises(Refused, match="can not bring"):
        added_ml(500, 18, 60, 60)


@given(ml=ML, bath=DEGC, at=st.floats(0, 1), ice=st.floats(-40, 0))
@settings(max_examples=60)
def test_the_heat_the_water_gives_is_the_heat_the_ice_takes(ml, bath, at, ice):
    wanted = bath * at
    needed_g = ice_g(ml, bath, wanted, ice)
    given_J = water_grams(ml, bath) * WATER_J_PER_G_K * (bath - wanted)
    taken_J = needed_g * (-ice * ICE_J_PER_G_K + MELTING_J_PER_G + wanted * WATER_J_PER_G_K)
    assert taken_J == pytest.approx(given_J, rel=1e-9, abs=1e-9)


@given(bath=st.floats(1, 40), colder=st.floats(-30, -1))
@settings(max_examples=30)
def test_colder_ice_is_needed_less(bath, colder):
    assert ice_g(1000, bath, bath / 2, colder) < ice_g(1000, bath, bath / 2, 0)


@pytest.mark.parametrize(
    ("bath", "wanted", "ice", "words"),
    [
        (20, 25, 0, "can not bring"),
        (20, -1, 0, "can not bring"),
        (20, 15, 1, "ice at 1"),
        (20, 15, -41, "ice at -41"),
    ],
)
def test_ice_that_can_not_do_it_is_refused(bath, wanted, ice, words):
    with pytest.raises(Refused, match=words):
        ice_g(1000, bath, wanted, ice)


@given(t=st.floats(min_value=4.1, max_value=100))
@settings(max_examples=30)
def test_water_above_four_degrees_gets_lighter_as_it_warms(t):
    assert water_density_g_per_ml(t) < water_density_g_per_ml(max(4.0, t - 1))


@given(
    room=st.floats(5, 30),
    first_K=st.floats(3, 20),
    shrunk=st.floats(0.3, 0.9),
    apart_s=st.floats(30, 3600),
    warms=st.booleans(),
)
@settings(max_examples=60)
def test_a_cooling_tray_is_where_newton_puts_it(room, first_K, shrunk, apart_s, warms):
    sign = -1 if warms else 1
    first, last = room + sign * first_K, room + sign * first_K * shrunk
    assume(first >= 0)
    cooling = tray_cooling((0, first), (apart_s, last), room)
    assert cooling.bath_degC(0) == pytest.approx(last)
    assert cooling.bath_degC(apart_s) == pytest.approx(room + sign * first_K * shrunk**2)
    assert cooling.time_until_s(cooling.bath_degC(apart_s / 2)) == pytest.approx(apart_s / 2, rel=1e-6)
    assert abs(cooling.bath_degC(cooling.time_constant_s) - room) == pytest.approx(
        abs(last - room) / 2.718281828, rel=1e-6
    )


def test_the_doubt_of_a_forecast_is_that_of_the_readings_and_grows_a_little_ahead():
    cooling = tray_cooling((0, 22.0), (300, 21.0), 15.0, tolerance_K=0.1)
    assert cooling.doubt_K(0) == pytest.approx(0.1)
    moved = tray_cooling((0, 22.1), (300, 20.9), 15.0, tolerance_K=0.1)
    ahead = abs(moved.bath_degC(900) - cooling.bath_degC(900))
    assert cooling.doubt_K(900) < ahead < 2 * cooling.doubt_K(900)


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        ((0, 20.0), (0, 19.0), "later"),
        ((60, 20.0), (0, 19.0), "later"),
        ((0, 20.0), (60, 21.0), "nearer"),
        ((0, 20.0), (60, 14.0), "nearer"),
        ((0, 15.0), (60, 15.0), "nearer"),
        ((0, 20.0), (60, 19.9), "too little"),
    ],
)
def test_readings_that_tell_no_rate_are_refused(first, last, words):
    with pytest.raises(Refused, match=words):
        tray_cooling(first, last, 15.0)


def test_a_temperature_the_tray_never_passes_is_refused():
    cooling = tray_cooling((0, 22.0), (300, 21.0), 15.0)
    for never in (15.0, 14.0, 21.5):
        with pytest.raises(Refused, match="never comes to"):
            cooling.time_until_s(never)
    with pytest.raises(Refused, match="0 s to 24 h"):
        cooling.bath_degC(-1)
