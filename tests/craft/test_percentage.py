"""A percentage solution means one thing, and the old one is told from the true one."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.percentage import (
    GRAIN_G,
    IMPERIAL_MINIM_ML,
    grams_for,
    percent_by_grains,
    volume_holding_ml,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.unit_words import unit_size

PERCENT = st.floats(min_value=0.01, max_value=100)


@given(percent=PERCENT, volume_ml=st.floats(min_value=0.1, max_value=10_000))
@settings(max_examples=50)
def test_the_volume_that_holds_the_grams_is_the_volume_made(percent, volume_ml):
    assert volume_holding_ml(grams_for(percent, volume_ml), percent) == pytest.approx(volume_ml, rel=1e-12)


def test_grain_and_minim_are_those_of_the_unit_table():
    assert unit_size("grain", "mass") == pytest.approx(GRAIN_G, rel=1e-12)
    assert unit_size("imperial_minim", "volume") == pytest.approx(IMPERIAL_MINIM_ML, rel=1e-12)


@pytest.mark.parametrize("percent", [0, -1, 100.1, float("nan")])
def test_a_strength_that_is_none_is_refused(percent):
    with pytest.raises(Refused, match="no strength"):
        grams_for(percent, 100)
    with pytest.raises(Refused, match="no strength"):
        volume_holding_ml(1, percent)
    with pytest.raises(Refused, match="no strength"):
        percent_by_grains(percent)


def test_no_volume_is_refused():
    with pytest.raises(Refused, match="no volume"):
        grams_for(10, 0)
