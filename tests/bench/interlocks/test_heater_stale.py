"""Interlock 4: no heat by an old reading, or by none."""

from __future__ import annotations

from firmware_py.bench.interlocks.heater_stale import StaleWatch
from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import NoReading, Reading


def test_before_the_first_reading_there_is_no_heat():
    assert StaleWatch().look(HeatSeen(10.0, None)) == "no reading of its water has come yet"
    assert "no reading" in StaleWatch().look(HeatSeen(10.0, NoReading("no wire", 10.0)))
    assert StaleWatch().due_s() is None


def test_a_fresh_reading_lets_it_be_until_it_is_too_old():
    watch = StaleWatch()
    word = Reading(20.0, 0.5, 100.0)
    assert watch.look(HeatSeen(100.0, word)) == ""
    assert watch.due_s() == 105.0
    assert watch.look(HeatSeen(104.99, word)) == ""
    assert watch.look(HeatSeen(105.0, word)) == "its probe has said nothing for 5 s"


def test_a_probe_that_says_why_is_quoted_and_forgiven_when_it_speaks_again():
    watch = StaleWatch()
    watch.look(HeatSeen(100.0, Reading(20.0, 0.5, 100.0)))
    assert watch.look(HeatSeen(103.0, NoReading("no wire", 103.0))) == ""
    assert "no wire" in watch.look(HeatSeen(106.0, NoReading("no wire", 106.0)))
    assert watch.look(HeatSeen(107.0, Reading(20.0, 0.5, 107.0))) == ""
