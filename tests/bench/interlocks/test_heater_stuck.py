"""Interlock 4: water that warms while the heater is off means a relay that sticks."""

from __future__ import annotations

import pytest

from firmware_py.bench.interlocks.heater_stuck import SETTLE_S, StuckWatch
from firmware_py.craft.simulation import TrayOnJacket
from tests.bench.interlocks.seeing import looked_at


def jacket(heater_W: float, room_degC: float = 15.0):
    """Return the jacket's temperature by the second: 3 l at 20 degC in a room, heated or not."""
    water = TrayOnJacket(20.0, 20.0, room_degC)
    degrees = []
    for _ in range(1200):
        degrees.append(water.jacket_degC)
        water.advance(1.0, heater_W)
    return lambda now_s: degrees[int(now_s)]


@pytest.mark.parametrize("heater_W", [100.0, 300.0, 1000.0])
def test_a_stuck_relay_is_found_within_a_few_minutes(heater_W):
    found = looked_at(StuckWatch(), jacket(heater_W), seconds=600)
    assert found is not None
    assert "PULL THE HEATER'S PLUG" in found[1]


@pytest.mark.parametrize("room_degC", [5.0, 15.0, 20.0, 30.0])
def test_water_left_to_itself_is_no_stuck_relay_where_the_room_is_known(room_degC):
    """A warm room warms it: that much is allowed for."""
    assert looked_at(StuckWatch(), jacket(0.0, room_degC), seconds=1200, room_degC=room_degC) is None


def test_the_heaters_own_warmth_after_it_went_off_is_allowed():
    """It settles for a while."""
    assert looked_at(StuckWatch(), lambda s: 20.0 + min(s, 60.0) / 20.0, seconds=600, since_s=0.0) is None
    assert SETTLE_S >= 60.0


def test_while_it_is_on_nothing_is_stuck():
    assert looked_at(StuckWatch(), jacket(300.0), seconds=600, on=lambda _: True) is None


def test_hot_water_poured_in_at_once_is_not_the_heater():
    assert looked_at(StuckWatch(), lambda s: 20.0 if s < 100 else 24.0, seconds=600) is None
