"""Interlock 4: water that warms while the heater is off means a relay that sticks."""

from __future__ import annotations

import pytest

from firmware_py.bench.interlocks.heater_stuck import StuckWatch
from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.craft.simulation import TrayOnJacket
from firmware_py.devices.probe import Reading
from tests.bench.interlocks.seeing import looked_at, stairs


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
    assert "PULL THE HEATER'S PLUG, the relay may stick" in found[1]


@pytest.mark.parametrize(("risen_K", "found"), [(0.74, False), (0.75, True)])
def test_three_quarters_of_a_kelvin_is_too_much_however_it_came(risen_K, found):
    """In three equal steps, as fast as a heater can."""
    at = looked_at(StuckWatch(), stairs(20.0, 10, 11, 12, step_K=risen_K / 3), seconds=100)
    assert (at is not None and at[0] == 12.0) is found


@pytest.mark.parametrize(("last_s", "found"), [(300.0, True), (301.0, False)])
def test_a_rise_counts_within_five_minutes_and_not_beyond(last_s, found):
    """Slower than that it may be the sun on the wall."""
    assert (looked_at(StuckWatch(), stairs(20.0, 11, 12, last_s), seconds=500) is not None) is found


def test_a_slow_rise_never_adds_up():
    assert looked_at(StuckWatch(), lambda s: 20.0 + 0.72 * s / 300.0, seconds=1200) is None


def test_water_that_cools_first_is_judged_from_its_coldest_on():
    """A relay that begins to stick later is not hidden by what the water had lost."""
    falls_then_rises = [20.0, 19.75, 19.5, 19.25, 19.5, 19.75, 20.0, 20.0]
    found = looked_at(StuckWatch(), lambda s: falls_then_rises[int(s)], seconds=8)
    assert found is not None
    assert found[0] == 6.0


def test_a_silent_probe_says_nothing_and_the_rise_goes_on_from_before():
    water = stairs(20.0, 10, 11, 50)
    found = looked_at(StuckWatch(), lambda s: None if 20 <= s < 40 else water(s), seconds=100)
    assert found is not None
    assert found[0] == 50.0


@pytest.mark.parametrize("room_degC", [5.0, 15.0, 20.0, 30.0])
def test_water_left_to_itself_is_no_stuck_relay_where_the_room_is_known(room_degC):
    """A warm room warms it: that much is allowed for."""
    assert looked_at(StuckWatch(), jacket(0.0, room_degC), seconds=1200, room_degC=room_degC) is None


def test_the_heaters_own_warmth_after_it_went_off_is_allowed():
    """It settles for a while."""
    assert looked_at(StuckWatch(), lambda s: 20.0 + min(s, 60.0) / 20.0, seconds=600, since_s=0.0) is None


@pytest.mark.parametrize(("first_s", "found"), [(90.0, False), (91.0, True)])
def test_from_the_end_of_its_settling_on_every_rise_counts(first_s, found):
    """A step that is over when it has settled is its own warmth; three after that are not."""
    water = stairs(20.0, first_s, first_s + 1.0, first_s + 2.0)
    assert (looked_at(StuckWatch(), water, seconds=300, since_s=0.0) is not None) is found


def test_while_it_is_on_nothing_is_stuck():
    assert looked_at(StuckWatch(), jacket(300.0), seconds=600, on=lambda _: True) is None


def test_hot_water_poured_in_at_once_is_not_the_heater():
    assert looked_at(StuckWatch(), lambda s: 20.0 if s < 100 else 24.0, seconds=600) is None


@pytest.mark.parametrize(
    ("apart_s", "step_K", "found"),
    [
        (0.5, 0.25, True),  # a heater can give 0.25 K between two readings
        (1.0, 0.25, True),
        (1.0, 0.251, False),  # more than that at once was poured
        (10.0, 2.5, True),  # and so on for readings that come less often
        (10.0, 2.6, False),
    ],
)
def test_what_no_heater_can_do_was_poured(apart_s, step_K, found):
    """Four steps one after the other, and then nothing more."""
    watch = StuckWatch()
    words = [Reading(20.0 + step_K * min(turn, 4), 0.5, apart_s * turn) for turn in range(8)]
    assert any(watch.look(HeatSeen(word.taken_s, word, since_s=-1e9)) for word in words) is found
