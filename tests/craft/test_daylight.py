"""Camera exposure by daylight: what the index means, laws of scale, the day's hours, refusals."""

from datetime import UTC, date
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.actinic import Emulsion
from firmware_py.craft.daylight import (
    ANCHOR_DEG,
    Scene,
    camera_time_s,
    doubt_stops,
    hours_of_day,
    light_stops,
    remarks,
)
from firmware_py.craft.moment import Dial
from firmware_py.craft.place import Place
from firmware_py.craft.refusal import Refused
from firmware_py.craft.scene import SKIES, SUBJECTS

EMULSIONS = get_args(Emulsion)
emulsion = st.sampled_from(EMULSIONS)
altitude = st.floats(1, 90)
f_number = st.floats(1, 128)
index = st.floats(0.1, 400)


@given(emulsion, index)
def test_the_index_is_anchored_at_f_16_in_the_sun_for_every_plate(kind, speed):
    light = light_stops(Scene(kind, ANCHOR_DEG))
    assert light == pytest.approx(0, abs=1e-9)
    assert camera_time_s(light, index=speed, f_number=16) == pytest.approx(1 / speed)


@given(emulsion, st.floats(15, 75), altitude)
def test_an_index_found_under_another_sun_shifts_everything_alike(kind, found_at, degrees):
    shift = light_stops(Scene(kind, found_at))
    moved = light_stops(Scene(kind, degrees), found_at_deg=found_at)
    assert moved == pytest.approx(light_stops(Scene(kind, degrees)) - shift, abs=1e-9)


@given(st.floats(5, 44))
def test_low_sun_costs_a_blue_plate_more_exposure_than_a_panchromatic_one(degrees):
    """Below five degrees the blue sky alone lights the ground, and the order no longer holds."""
    blue, ortho, pan = (light_stops(Scene(kind, degrees)) for kind in EMULSIONS)
    assert blue > ortho > pan > 0
    blue, ortho, pan = (light_stops(Scene(kind, degrees, subject="upright")) for kind in EMULSIONS)
    assert blue > ortho > pan


@given(emulsion, st.floats(1, 60), st.floats(1.001, 1.4))
def test_a_landscape_needs_less_as_the_sun_climbs(kind, degrees, times):
    assert light_stops(Scene(kind, degrees * times)) < light_stops(Scene(kind, degrees))


@given(st.floats(-6, 12), index, f_number, st.floats(1, 50), st.floats(-3, 3))
def test_time_goes_with_square_of_stop_and_over_index(light, speed, stop, factor, correction):
    bare = camera_time_s(light, index=speed, f_number=stop)
    assert camera_time_s(light, index=2 * speed, f_number=stop) == pytest.approx(bare / 2)
    assert camera_time_s(light, index=speed, f_number=2 * stop) == pytest.approx(4 * bare)
    assert camera_time_s(light + 1, index=speed, f_number=stop) == pytest.approx(2 * bare)
    assert camera_time_s(light, index=speed, f_number=stop, factor=factor) == pytest.approx(factor * bare)
    corrected = camera_time_s(light, index=speed, f_number=stop, correction_stops=correction)
    assert corrected == pytest.approx(bare * 2**correction)


@given(emulsion, altitude, st.sampled_from(list(SUBJECTS)))
def test_a_subjects_own_stops_are_added(kind, degrees, what):
    like = {1.0: "upright", 0.0: "level"}.get(SUBJECTS[what].upright, "landscape")
    bare = light_stops(Scene(kind, degrees, subject=like))
    assert light_stops(Scene(kind, degrees, subject=what)) == pytest.approx(bare + SUBJECTS[what].stops)


@given(emulsion, st.floats(5, 89), st.sampled_from(list(SKIES)))
def test_the_lower_the_sun_the_greater_the_doubt(kind, degrees, sky):
    assert doubt_stops(Scene(kind, degrees, sky)) >= doubt_stops(Scene(kind, degrees + 1, sky)) > 0.3


def test_below_five_degrees_it_says_that_it_is_not_to_be_trusted():
    assert any("not to be trusted" in line for line in remarks(Scene("blue", 4.9)))
    assert doubt_stops(Scene("blue", 4.9)) >= 2
    assert remarks(Scene("blue", 5.1)) == ()


def test_under_cloud_it_says_that_the_side_does_not_matter():
    assert any("no difference" in line for line in remarks(Scene("blue", 30, "heavy", lighting="back")))


def test_a_place_given_in_the_sun_has_its_hours():
    hours = hours_of_day(date(2026, 3, 20), Dial(solar="apparent", longitude_deg=0), Place(0, 0))
    assert len(hours) == 24
    assert hours[12].altitude_deg == pytest.approx(90, abs=0.5)
    assert hours[9].altitude_deg == pytest.approx(45, abs=0.5)
    assert max(hour.altitude_deg for hour in (*hours[:6], *hours[19:])) < 0


def test_the_polar_day_has_no_night_and_the_polar_night_no_day():
    there = Place(78.2, 15.6)
    summer = hours_of_day(date(2026, 6, 21), Dial(UTC), there)
    winter = hours_of_day(date(2026, 12, 21), Dial(UTC), there)
    assert min(hour.altitude_deg for hour in summer) > 10
    assert max(hour.altitude_deg for hour in winter) < -10


@pytest.mark.parametrize(
    "call",
    [
        lambda: Scene("blue", 0.5),
        lambda: Scene("blue", -12),
        lambda: Scene("blue", 45, subject="wood", lighting="back"),
        lambda: Scene("blue", 45, subject="cathedral"),
        lambda: Scene("blue", 45, sky="gloomy"),
        lambda: light_stops(Scene("blue", 45, lighting="above")),
        lambda: light_stops(Scene("blue", 45, height_m=9000)),
        lambda: light_stops(Scene("blue", 45), found_at_deg=5),
        lambda: camera_time_s(0, index=0, f_number=16),
        lambda: camera_time_s(0, index=float("nan"), f_number=16),
        lambda: camera_time_s(0, index=2, f_number=0),
        lambda: camera_time_s(0, index=2, f_number=16, factor=0.5),
        lambda: camera_time_s(0, index=2, f_number=16, correction_stops=9),
    ],
)
def test_what_can_not_be_reckoned_is_refused(call):
    with pytest.raises(Refused, match="allowed: "):
        call()
