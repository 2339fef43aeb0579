"""Clear-sky light: it grows with the sun and the height, and low sun costs a blue plate most."""

import math
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.actinic import (
    Emulsion,
    Light,
    air_mass,
    barometer_ratio,
    clear_light,
    read_emulsion,
)
from firmware_py.craft.refusal import Refused

EMULSIONS = get_args(Emulsion)
emulsion = st.sampled_from(EMULSIONS)


@given(st.floats(1, 89), st.floats(0.1, 1), emulsion)
def test_a_higher_sun_gives_more_light(altitude, more, kind):
    low, high = clear_light(altitude, kind), clear_light(min(90, altitude + more), kind)
    assert high.sun > low.sun
    assert high.level > low.level


@given(st.floats(1, 44))
def test_low_sun_costs_a_blue_plate_more_than_an_orthochromatic_and_that_more_than_a_panchromatic(altitude):
    lost = [math.log2(clear_light(45, kind).sun / clear_light(altitude, kind).sun) for kind in EMULSIONS]
    assert lost == sorted(lost, reverse=True)


@given(st.floats(1, 90), st.floats(0, 4900), st.floats(1, 100), emulsion)
def test_a_mountain_has_more_sun_and_less_sky(altitude, height, more, kind):
    valley, mountain = clear_light(altitude, kind, height), clear_light(altitude, kind, height + more)
    assert mountain.sun > valley.sun
    assert mountain.sky < valley.sky
    assert mountain.sun < 1


@given(st.floats(1, 89), emulsion)
def test_a_wall_in_shade_has_less_than_one_in_the_sun(altitude, kind):
    light = clear_light(altitude, kind)
    assert 0 < light.shaded < light.facing


def test_at_45_degrees_ground_and_facing_wall_have_nearly_the_same_light():
    for kind in EMULSIONS:
        light = clear_light(45, kind)
        assert abs(math.log2(light.level / light.facing)) < 0.1


def test_a_light_without_sun_is_the_sky_alone():
    dimmed = Light(30, 0.5, 0.1).dimmed(0)
    assert (dimmed.level, dimmed.facing) == (0.1, dimmed.shaded)


def test_emulsions_go_by_their_short_and_long_names():
    words = ("blue", "Orthochromatic", " pan ")
    assert tuple(read_emulsion(word, where="--plate") for word in words) == EMULSIONS
    with pytest.raises(Refused, match="blue, ortho or pan"):
        read_emulsion("infrared", where="--plate")


@pytest.mark.parametrize("altitude", [0.9, -5, 91, float("nan")])
def test_a_sun_outside_the_table_is_refused(altitude):
    with pytest.raises(Refused):
        clear_light(altitude, "blue")


@pytest.mark.parametrize("height", [-500, 5001, float("inf")])
def test_a_height_outside_the_barometer_formula_is_refused(height):
    with pytest.raises(Refused):
        barometer_ratio(height)


def test_air_mass_is_one_overhead_and_thirty_eight_on_the_horizon():
    assert air_mass(90) == pytest.approx(1, abs=0.001)
    assert air_mass(0) == pytest.approx(38, abs=0.5)
