"""A lamp that warms for minutes, and the running dose in front of it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.craft.warming import WarmUp

FEW = settings(max_examples=50, deadline=None)
LAMP = WarmUp(((30.0, 0.2), (120.0, 0.8), (300.0, 1.0)))


def test_between_its_levels_the_light_grows_evenly_and_then_stays():
    assert LAMP.light(15.0) == pytest.approx(0.1)
    assert LAMP.light(75.0) == pytest.approx(0.5)
    assert LAMP.light(300.0) == 1.0
    assert LAMP.light(3600.0) == 1.0


def test_a_warm_lamp_gives_seconds_for_seconds():
    assert LAMP.dose_s(600.0, 900.0) == pytest.approx(300.0)
    assert WarmUp(((0.0, 1.0),)).dose_s(0.0, 25.0) == 25.0


@FEW
@given(st.floats(0.0, 600.0), st.floats(0.1, 3600.0))
def test_the_end_of_an_exposure_has_just_the_dose_that_was_wanted(from_s, wanted_s):
    assert LAMP.dose_s(from_s, LAMP.end_s(from_s, wanted_s)) == pytest.approx(wanted_s, abs=1e-6)


@FEW
@given(st.floats(0.0, 400.0), st.floats(0.0, 400.0), st.floats(0.0, 400.0))
def test_doses_add_up_along_the_clock(one, two, three):
    a, b, c = sorted((one, two, three))
    assert LAMP.dose_s(a, b) + LAMP.dose_s(b, c) == pytest.approx(LAMP.dose_s(a, c), abs=1e-9)


def test_the_dose_is_the_area_under_the_light():
    area = sum(LAMP.light((n + 0.5) * 0.05) for n in range(8000)) * 0.05
    assert LAMP.dose_s(0.0, 400.0) == pytest.approx(area, abs=1e-3)


def test_a_lamp_of_no_light_never_gives_a_dose():
    with pytest.raises(Refused, match="gives light"):
        WarmUp(((10.0, 0.0),)).end_s(0.0, 5.0)


@pytest.mark.parametrize(
    "levels", [(), ((10.0, 0.5), (10.0, 1.0)), ((-1.0, 0.5),), ((0.0, -0.5),), ((0.0, math.nan),)]
)
def test_levels_that_cannot_be_are_refused(levels):
    with pytest.raises(Refused, match="warm-up"):
        WarmUp(levels)


def test_an_exposure_cannot_end_before_it_starts():
    with pytest.raises(Refused, match="end after the start"):
        LAMP.dose_s(20.0, 10.0)
