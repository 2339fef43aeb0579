"""What the room may have given water is not put down to the heater."""

from __future__ import annotations

import pytest

from firmware_py.bench.interlocks.water_rise import WaterRise
from firmware_py.devices.probe import Reading


@pytest.mark.parametrize(
    ("room_degC", "heated_K"),
    [
        (None, 3.0),  # unknown: nothing is taken off
        (12.0, 3.0),  # colder than the water: it gave nothing
        (39.0, 2.0),  # 18 K warmer for 100 s of its 1800 s: 1 K
    ],
)
def test_what_a_warmer_room_may_have_given_is_taken_off(room_degC, heated_K):
    rise = WaterRise(Reading(18.0, 0.5, 1000.0))
    rise.goes_on(Reading(21.0, 0.5, 1100.0), room_degC)
    assert rise.risen_K == 3.0
    assert rise.lasted_s == 100.0
    assert rise.heated_K == pytest.approx(heated_K)


def test_each_reading_adds_the_share_of_its_own_time():
    """Twice 50 s, first 18 K warmer, then as warm as the water."""
    rise = WaterRise(Reading(18.0, 0.5, 0.0))
    rise.goes_on(Reading(18.0, 0.5, 50.0), 36.0)
    rise.goes_on(Reading(18.0, 0.5, 100.0), 18.0)
    assert rise.heated_K == pytest.approx(-0.5)
