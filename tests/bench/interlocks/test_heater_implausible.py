"""Interlock 4: no heat by a reading that water can not have, or that jumps."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.bench.interlocks.heater_implausible import ImplausibleWatch
from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import Reading
from tests.bench.interlocks.seeing import looked_at, objections, stairs


@pytest.mark.parametrize("water_degC", [-4.0, 0.49, 50.01, 59.9])
def test_what_water_can_not_have_is_no_reading(water_degC):
    found = looked_at(ImplausibleWatch(), lambda _: water_degC, seconds=1)
    assert found is not None
    assert "can not have" in found[1]


@pytest.mark.parametrize("water_degC", [0.5, 50.0])
def test_the_coldest_and_the_warmest_water_are_readings(water_degC):
    assert looked_at(ImplausibleWatch(), lambda _: water_degC, seconds=20) is None


def test_a_jump_stops_it_until_the_probe_has_lain_quiet():
    """For ten seconds from the jump on, at the new level; then it counts again."""
    found = objections(ImplausibleWatch(), stairs(20.0, 30, step_K=10.0), seconds=60)
    assert [when_s for when_s, _ in found] == [30.0 + second for second in range(10)]
    assert {why for _, why in found} == {"its probe jumped, to 30.0 degC"}


def test_a_person_who_sets_the_heater_anew_does_not_make_a_jump_undone():
    watch = ImplausibleWatch()
    assert objections(watch, stairs(20.0, 3, step_K=10.0), seconds=4) != []
    watch.begin()
    assert watch.look(HeatSeen(12.99, Reading(30.0, 0.5, 12.99))) != ""


@pytest.mark.parametrize("way", [1, -1])
@pytest.mark.parametrize(
    ("apart_s", "by_K", "jumped"),
    [
        (1.0, 1.0, False),
        (1.0, 1.01, True),
        (10.0, 2.5, False),
        (10.0, 2.51, True),
        (0.0, 1.01, True),  # two probes in one water that do not agree
    ],
)
def test_how_far_water_may_have_come_between_two_readings(way, apart_s, by_K, jumped):
    """A kelvin, or a quarter of one for each second: however long the bench has run."""
    watch = ImplausibleWatch()
    assert watch.look(HeatSeen(5000.0, Reading(20.0, 0.5, 5000.0))) == ""
    word = Reading(20.0 + way * by_K, 0.5, 5000.0 + apart_s)
    assert (watch.look(HeatSeen(word.taken_s, word)) != "") is jumped


def test_a_probe_that_says_nothing_is_no_matter_of_this_watch():
    """The one for old readings sees to it. What comes after a silence is held against what was before."""
    found = objections(ImplausibleWatch(), lambda s: None if s < 2 else 20.0 if s < 5 else None, seconds=9)
    assert found == []
    assert looked_at(ImplausibleWatch(), lambda s: (20.0, None, 30.0)[int(s)], seconds=3) is not None


def test_a_probe_that_jumps_to_and_fro_never_counts():
    watch = ImplausibleWatch()
    words = [Reading(20.0 + 10.0 * (second % 3 == 0), 0.5, float(second)) for second in range(60)]
    objections = [watch.look(HeatSeen(word.taken_s, word)) for word in words]
    assert all(objections[3:])


@given(st.floats(-0.25, 0.25))
def test_whatever_heats_water_really_is_believed(slope):
    """Up to a quarter of a kelvin a second."""
    assert looked_at(ImplausibleWatch(), lambda s: 25.0 + slope * s, seconds=60) is None
