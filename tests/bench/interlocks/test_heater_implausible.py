"""Interlock 4: no heat by a reading that water can not have, or that jumps."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.bench.interlocks.heater_implausible import (
    FASTEST_K_PER_S,
    QUIET_S,
    COLDEST_degC,
    ImplausibleWatch,
    WARMEST_degC,
)
from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import Reading
from tests.bench.interlocks.seeing import looked_at


@pytest.mark.parametrize("water_degC", [-4.0, COLDEST_degC - 0.1, WARMEST_degC + 0.1, 59.9])
def test_what_water_can_not_have_is_no_reading(water_degC):
    found = looked_at(ImplausibleWatch(), lambda _: water_degC, seconds=1)
    assert found is not None
    assert "can not have" in found[1]


def test_a_jump_stops_it_until_the_probe_has_lain_quiet():
    """Ten seconds after the last jump, at the new level."""
    watch = ImplausibleWatch()
    assert looked_at(watch, lambda _: 20.0, seconds=10) is None
    jumped = looked_at(watch, lambda s: 20.0 if s < 10 else 30.0, seconds=11)
    assert jumped == (10.0, "its probe jumped, to 30.0 degC")
    assert looked_at(watch, lambda s: 30.0, seconds=10 + int(QUIET_S)) == (
        0.0,
        "its probe jumped, to 30.0 degC",
    )


def test_a_probe_that_jumps_to_and_fro_never_counts():
    watch = ImplausibleWatch()
    words = [Reading(20.0 + 10.0 * (second % 3 == 0), 0.5, float(second)) for second in range(60)]
    objections = [watch.look(HeatSeen(word.taken_s, word)) for word in words]
    assert all(objections[3:])


@given(st.floats(-FASTEST_K_PER_S, FASTEST_K_PER_S))
def test_whatever_heats_water_really_is_believed(slope):
    """Up to a quarter of a kelvin a second."""
    assert looked_at(ImplausibleWatch(), lambda s: 25.0 + slope * s, seconds=60) is None
