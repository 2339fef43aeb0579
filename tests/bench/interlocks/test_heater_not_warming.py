"""Interlock 4: no heat into water that does not warm as it should."""

from __future__ import annotations

import pytest

from firmware_py.bench.interlocks.heater_not_warming import NotWarmingWatch
from firmware_py.craft.simulation import TrayOnJacket
from tests.bench.interlocks.seeing import looked_at, stairs


def watch() -> NotWarmingWatch:
    return NotWarmingWatch(0.5, 300.0)


def always(_: float) -> bool:
    return True


def test_a_dead_heater_is_found_in_its_time():
    found = looked_at(watch(), lambda _: 18.0, seconds=400, on=always)
    assert found is not None
    assert found[0] == 300.0
    assert "5 min of heat have changed its water by +0.0 K: is the heater alive" in found[1]


@pytest.mark.parametrize(("risen_K", "found_s"), [(0.49, 300.0), (0.5, 600.0)])
def test_the_last_second_still_counts_and_the_next_count_begins_with_it(risen_K, found_s):
    """Just too little is found in its time; just enough gives it as long again."""
    found = looked_at(watch(), stairs(18.0, 300, step_K=risen_K), seconds=700, on=always)
    assert found is not None
    assert found[0] == found_s


def test_a_probe_that_falls_silent_for_a_while_does_not_begin_the_count_anew():
    found = looked_at(watch(), lambda s: None if 100 <= s < 200 else 18.0, seconds=400, on=always)
    assert found is not None
    assert found[0] == 300.0


@pytest.mark.parametrize(("break_s", "found_s"), [(3.0, 300.0), (4.0, 205.0 + 300.0)])
def test_a_short_break_of_the_heat_does_not_begin_the_count_anew_and_a_longer_one_does(break_s, found_s):
    """It goes off at 200 s; what is seen while it is off is not judged."""
    one_more_s = break_s + 1.0
    found = looked_at(watch(), lambda _: 18.0, seconds=600, on=lambda s: not 200 <= s < 200 + one_more_s)
    assert found is not None
    assert found[0] == found_s


def test_nothing_is_judged_during_a_break():
    """It goes off just before its time is up: the word comes when it is on again."""
    found = looked_at(watch(), lambda _: 18.0, seconds=400, on=lambda s: not 299 <= s < 302)
    assert found is not None
    assert found[0] == 302.0


def test_water_that_warms_is_let_be_however_long():
    """0.5 K in 300 s is just enough; and so on from there."""
    assert looked_at(watch(), lambda s: 18.0 + 0.5 * s / 299.0, seconds=3000, on=always) is None


def test_a_heater_that_dies_later_is_found_from_the_last_rise_on():
    found = looked_at(watch(), lambda s: 18.0 + min(s, 600.0) / 100.0, seconds=2000, on=always)
    assert found is not None
    assert 850.0 < found[0] <= 901.0


def test_a_probe_out_of_the_water_is_found_as_soon_as_it_falls():
    """It cools in the air while the water grows warm unseen."""
    found = looked_at(watch(), lambda s: 20.0 - 0.02 * s, seconds=300, on=always)
    assert found is not None
    assert found[0] <= 0.75 / 0.02 + 1
    assert "out of the water" in found[1]


@pytest.mark.parametrize(("fallen_K", "found_s"), [(0.74, 300.0), (0.75, 40.0), (1.0, 40.0)])
def test_a_fall_by_three_quarters_of_a_kelvin_is_one(fallen_K, found_s):
    found = looked_at(watch(), stairs(20.0, 40, step_K=-fallen_K), seconds=400, on=always)
    assert found is not None
    assert found[0] == found_s


def test_a_fall_is_told_as_a_fall():
    found = looked_at(watch(), stairs(20.0, 40, step_K=-1.0), seconds=400, on=always)
    assert found == (40.0, "its probe has fallen by 1.0 K under full heat: is it out of the water?")


def test_heat_in_portions_is_not_judged():
    """A third of each window holds the water where it is: nothing wrong."""
    assert looked_at(watch(), lambda _: 20.0, seconds=3000, on=lambda s: s % 20 < 7) is None


def test_a_person_who_sets_it_anew_begins_the_count_anew():
    one = watch()
    assert looked_at(one, lambda _: 18.0, seconds=299, on=always) is None
    one.begin()
    assert looked_at(one, lambda _: 18.0, seconds=299, on=always) is None


def test_a_warm_room_does_not_hide_a_dead_heater():
    """What the room may have given does not count as heat, where the room is known."""
    water = TrayOnJacket(15.0, 15.0, 25.0)
    degrees = []
    for _ in range(400):
        degrees.append(water.jacket_degC)
        water.advance(1.0, 0.0)
    found = looked_at(watch(), lambda s: degrees[int(s)], seconds=400, on=always, room_degC=25.0)
    assert found is not None
    assert found[0] == 300.0
