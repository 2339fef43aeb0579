"""The guardian's watch: told every sign of life, it says what is lost and when; no clock, no pipes."""

import math

import pytest

from firmware_py.switchboard.watch import Watch

SILENCE_s = 1.0
PATIENCE_s = 1.2


@pytest.fixture
def watch():
    watch = Watch(SILENCE_s)
    watch.begin(100.0)
    return watch


def test_both_alive_is_nothing_lost(watch):
    watch.controller_s = watch.switchboard_s = 107.0
    assert watch.lost(108.1) == ""
    assert watch.next_due_s() == pytest.approx(107.0 + PATIENCE_s)


@pytest.mark.parametrize("silent", ["controller", "switchboard"])
def test_either_one_silent_is_lost_a_little_after_the_switchboard_s_own_patience(watch, silent):
    watch.controller_s = watch.switchboard_s = 107.0
    setattr(watch, f"{silent}_s", 106.0)
    assert watch.lost(106.0 + PATIENCE_s - 0.001) == ""
    assert silent in watch.lost(106.0 + PATIENCE_s)


def test_an_ended_switchboard_is_lost_at_once(watch):
    watch.switchboard_ended_s = 100.3
    assert watch.lost(100.3) == "the switchboard ended"


def test_a_switchboard_gets_a_moment_to_end_by_itself_after_its_controller(watch):
    watch.controller_ended_s = 100.3
    assert watch.lost(100.4) == ""
    assert watch.lost(100.51) == "the controller ended"


def test_nothing_is_lost_before_there_is_anything_to_guard():
    watch = Watch(SILENCE_s)
    watch.switchboard_ended_s = 5.0
    assert watch.next_due_s() == math.inf
    assert watch.lost(1e9) == ""
    assert not watch.is_over()
    watch.controller_ended_s = 6.0
    assert watch.is_over()
    assert watch.lost(1e9) == ""
