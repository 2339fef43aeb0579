"""The heater on the bench: it holds its water, and is off whenever a watcher or the past says so."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from firmware_py.bench.show import show
from firmware_py.bench.warmth.heat_facts import HEATER, HeatRule
from firmware_py.craft.refusal import Refused
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.events import heat as he
from firmware_py.facts.views.upkeep import HeaterView
from tests.bench.upkeep_at_hand import STAY_S, UpkeepAtHand


def view(at: UpkeepAtHand) -> HeaterView:
    seen = show(at.bench).heater
    assert seen is not None
    return seen


def is_on(at: UpkeepAtHand) -> bool:
    return at.switchboard.is_on(HEATER)


def warmed(at: UpkeepAtHand, set_degC: float, minutes: float) -> list[float]:
    """Set the heater and return the true temperature of its water, every ten seconds."""
    at.do(ua.SetHeat(set_degC=set_degC))
    degrees = []
    for _ in range(int(minutes * 6)):
        at.pass_s(10.0)
        degrees.append(at.water.jacket_degC if at.heater.rule.place == "jacket" else at.water.bath_degC)
    return degrees


@pytest.mark.parametrize(
    ("heater_W", "room_degC"), [(150.0, 12.0), (300.0, 12.0), (300.0, 18.0), (800.0, 15.0)]
)
def test_the_jacket_comes_to_its_set_point_and_stays_there(heater_W, room_degC):
    """Within 0.3 K after half an hour, overshooting by less than 0.6 K."""
    at = UpkeepAtHand(water_degC=14.0, room_degC=room_degC, heater_W=heater_W)
    degrees = warmed(at, 20.0, 70.0)
    late = degrees[-120:]
    assert max(degrees) < 20.6
    assert all(abs(one - 20.0) < 0.3 for one in late)
    assert view(at).state == "holding"


@pytest.mark.parametrize("heater_W", [150.0, 300.0])
def test_a_tray_is_held_through_its_jacket(heater_W):
    """The jacket leads, the tray follows three minutes later: still within 0.5 K, and below 1 K over."""
    at = UpkeepAtHand(water_degC=14.0, room_degC=12.0, heater_W=heater_W, heat=HeatRule(place="tray 1"))
    degrees = warmed(at, 20.0, 90.0)
    assert max(degrees) < 21.0
    assert all(abs(one - 20.0) < 0.5 for one in degrees[-120:])


def test_the_relay_is_thrown_no_more_than_twice_a_window_and_asked_for_within_its_limit():
    at = UpkeepAtHand(water_degC=19.0, room_degC=12.0)
    warmed(at, 20.0, 30.0)
    throws = [(at_s, on) for at_s, relay, on in at.throws if relay == HEATER]
    assert len(throws) <= 2 * 30 * 60 / 20.0 + 2
    spans = [b - a for (a, on), (b, _) in pairwise(throws) if on]
    assert all(span >= 1.0 - 1e-6 for span in spans)
    assert any(span > STAY_S for span in spans)  # asked for again and again, never dropped in between


def test_a_controller_that_says_nothing_more_loses_the_heater_within_its_limit():
    """The switchboard alone puts it off."""
    at = UpkeepAtHand(water_degC=10.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(5.0)
    assert is_on(at)
    at.clock.jump_to(at.clock.now_s() + STAY_S + 0.1)
    at.switchboard.advance(at.clock.now_s())
    assert not is_on(at)


def test_after_a_start_it_is_off_until_a_person_sets_it():
    at = UpkeepAtHand(water_degC=10.0)
    at.pass_s(60.0)
    assert not is_on(at)
    assert view(at).state == "off"


def test_a_lost_switchboard_leaves_it_off_until_it_is_set_anew():
    at = UpkeepAtHand(water_degC=10.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(5.0)
    at.switchboard.lose("killed")
    at.pass_s(60.0)
    assert not is_on(at)
    assert view(at).state == "off"
    assert he.HeatEnded(why="every relay was made safe") in at.events(he.HeatEnded)


def test_it_waits_for_a_silent_probe_and_goes_on_by_itself():
    at = UpkeepAtHand(water_degC=10.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(5.0)
    assert is_on(at)
    at.words["jacket probe"] = lambda word: NoReading("no wire", word.taken_s)
    at.pass_s(5.5)
    assert not is_on(at)
    assert (view(at).state, "no wire" in view(at).words) == ("waiting", True)
    assert "The heater waits" in at.words_standing
    at.words.clear()
    at.pass_s(2.0)
    assert is_on(at)
    assert "The heater waits" not in at.words_standing


def test_it_goes_off_when_no_word_comes_at_all():
    """A probe's thread that hangs says nothing, not even that it has nothing."""
    at = UpkeepAtHand(water_degC=10.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(5.0)
    at.is_reading = False
    at.pass_s(5.1)
    assert not is_on(at)


def test_a_jumping_probe_gives_no_heat():
    at = UpkeepAtHand(water_degC=10.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(5.0)
    at.words["jacket probe"] = lambda word: Reading(
        word.bath_degC + 10.0 * (round(word.taken_s) % 3 == 0), 0.5, word.taken_s
    )
    at.pass_s(5.0)
    assert not is_on(at)
    at.throws.clear()
    at.pass_s(120.0)
    assert not at.throws


def test_a_dead_heater_is_put_off_for_good_and_said_so():
    at = UpkeepAtHand(water_degC=15.0, heater_W=0.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(310.0)
    assert not is_on(at)
    assert view(at).state == "stopped"
    (stopped,) = at.events(he.HeatStopped)
    assert isinstance(stopped, he.HeatStopped)
    assert stopped.watcher == "not warming"
    assert "Interlock 4: the heater stays off: 5 min of heat" in at.words_standing
    assert at.tunes[-1] == "trouble"
    at.throws.clear()
    at.pass_s(600.0)
    assert not at.throws


def test_a_person_may_try_again_after_a_stop():
    at = UpkeepAtHand(water_degC=15.0, heater_W=0.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(310.0)
    at.heater_W = 300.0
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(600.0)
    assert view(at).state in {"warming", "holding"}
    assert "stays off" not in at.words_standing


def test_a_stuck_relay_is_said_even_when_nobody_heats():
    """The bench can not switch it off: a person must pull the plug."""
    at = UpkeepAtHand(water_degC=15.0, room_degC=15.0)
    at.is_stuck = True
    at.pass_s(300.0)
    assert "PULL THE HEATER'S PLUG" in at.words_standing
    assert [one.watcher for one in at.events(he.HeatStopped) if isinstance(one, he.HeatStopped)] == [
        "relay stuck"
    ]


def test_a_relay_that_sticks_while_heating_ends_at_the_limit_at_the_latest():
    at = UpkeepAtHand(water_degC=19.0, room_degC=15.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(60.0)
    at.is_stuck = True
    at.pass_s(1800.0)
    assert view(at).state == "stopped"
    assert at.events(he.HeatStopped)


def test_water_above_the_limit_stops_it():
    at = UpkeepAtHand(water_degC=31.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.turn()
    assert view(at).state == "stopped"
    assert "above its limit of 30 degC" in view(at).words


@pytest.mark.parametrize("set_degC", [0.0, 4.9, 28.1, 40.0])
def test_a_set_point_out_of_bounds_is_refused(set_degC):
    at = UpkeepAtHand()
    with pytest.raises(Refused, match="allowed: 5 to 28 degC"):
        at.do(ua.SetHeat(set_degC=set_degC))
    assert view(at).set_degC is None


def test_a_bath_knows_what_it_works_at():
    """From its formula, or from what it was last set to."""
    at = UpkeepAtHand()
    at.make()
    with pytest.raises(Refused, match="developer 1: no temperature is said or known"):
        at.do(ua.SetHeat(bath="developer 1"))
    at.do(ua.SetHeat(bath="developer 1", set_degC=21.5))
    at.do(ua.StopHeat())
    at.do(ua.SetHeat(bath="developer 1"))
    assert (view(at).set_degC, view(at).bath) == (21.5, "developer 1")


def test_a_bench_without_a_heater_says_so():
    at = UpkeepAtHand(heat=None)
    with pytest.raises(Refused, match="has no heater"):
        at.do(ua.SetHeat(set_degC=20.0))
    assert show(at.bench).heater is None


def test_ice_is_advised_where_the_jacket_is_too_warm():
    """3 l at 24 degC to 20: 4 x 3000 g of water against 333.5 + 84 J/g of ice, about 120 g (worked)."""
    at = UpkeepAtHand(water_degC=24.0, room_degC=24.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.turn()
    (advice,) = view(at).advice
    wanted = 4.0 * 4.18 * 2992 / (333.5 + 20 * 4.18)
    grams = float(advice.split("about ")[1].split(" g")[0])
    assert math.isclose(grams, wanted, rel_tol=0.03)
    assert "too warm" in advice


def test_stopping_is_written_and_switches_off_at_once():
    at = UpkeepAtHand(water_degC=10.0)
    at.do(ua.SetHeat(set_degC=20.0))
    at.pass_s(5.0)
    at.do(ua.StopHeat())
    at.turn()
    assert not is_on(at)
    assert at.events(he.HeatSet) == [he.HeatSet(set_degC=20.0)]
    assert at.events(he.HeatEnded) == [he.HeatEnded(why="a person asked")]
