"""Scenes: the order of skies and lightings that every photographer knows."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.actinic import clear_light
from firmware_py.craft.refusal import Refused
from firmware_py.craft.scene import (
    LIGHTINGS,
    SKIES,
    SUBJECTS,
    light_on,
    lighting_called,
    sky_called,
    subject_called,
)

altitude = st.floats(1, 90)
emulsion = st.sampled_from(["blue", "ortho", "pan"])
subject = st.sampled_from(list(SUBJECTS.values()))


@given(altitude, emulsion, subject, st.sampled_from(list(SKIES.values())))
def test_light_from_the_front_is_most_and_from_behind_least(degrees, kind, what, sky):
    light = clear_light(degrees, kind)
    front, side, back = (light_on(light, sky, what, name) for name in ("front", "side", "back"))
    assert front >= side >= back > 0


@given(st.floats(5, 90), emulsion)
def test_skies_darken_in_their_order(degrees, kind):
    light = clear_light(degrees, kind)
    order = ("white-clouds", "clear", "cloudy", "heavy", "storm")
    given_light = [light_on(light, SKIES[name], SUBJECTS["landscape"], "front") for name in order]
    assert all(brighter > darker for brighter, darker in pairwise(given_light))
    hazy = light_on(light, SKIES["hazy"], SUBJECTS["landscape"], "front")
    assert given_light[1] > hazy


@given(altitude, emulsion, subject)
def test_under_cloud_only_open_shade_makes_a_difference(degrees, kind, what):
    light, sky = clear_light(degrees, kind), SKIES["heavy"]
    front, side, back, shade = (light_on(light, sky, what, name) for name in LIGHTINGS)
    assert front == side == back
    assert math.log2(front / shade) == pytest.approx(1)


@given(st.floats(5, 75))
def test_open_shade_costs_a_panchromatic_plate_more_than_a_blue_one(degrees):
    """A blue plate sees the blue sky that lights the shade."""
    sky, what = SKIES["clear"], SUBJECTS["landscape"]
    blue, pan = (
        math.log2(light_on(light, sky, what, "front") / light_on(light, sky, what, "shade"))
        for light in (clear_light(degrees, "blue"), clear_light(degrees, "pan"))
    )
    assert pan > blue > 0


def test_names_that_are_not_known_are_refused_with_those_that_are():
    for called in (sky_called, subject_called, lighting_called):
        with pytest.raises(Refused, match="allowed: "):
            called("gloomy")
