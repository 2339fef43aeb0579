"""Interlock 4: no heat above the limit, in any water that the heater warms."""

from __future__ import annotations

from firmware_py.bench.interlocks.heater_limit import LimitWatch
from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import NoReading, Reading


def seen(own_degC: float | None, *others_degC: float) -> HeatSeen:
    own = NoReading("no wire", 1.0) if own_degC is None else Reading(own_degC, 0.5, 1.0)
    return HeatSeen(1.0, own, [Reading(one, 0.5, 1.0) for one in others_degC])


def test_the_limit_itself_is_allowed_and_a_hair_more_is_not():
    watch = LimitWatch(30.0)
    assert watch.look(seen(30.0)) == ""
    assert watch.look(seen(30.1)) == "the water is at 30.1 degC, above its limit of 30 degC"


def test_a_jacket_that_is_too_warm_counts_while_the_tray_is_not():
    watch = LimitWatch(30.0)
    assert "31.0" in watch.look(seen(20.0, 31.0))
    assert "31.0" in watch.look(seen(None, 31.0))
    assert watch.look(seen(None)) == ""


def test_no_setting_puts_the_limit_where_gelatin_melts():
    assert LimitWatch(90.0).look(seen(40.0)) == ""
    assert LimitWatch(90.0).look(seen(40.1)) != ""
