"""Interlock 5: a foot switch that was down at the start, or stays down, counts for nothing until released."""

from __future__ import annotations

import pytest

from firmware_py.bench.interlocks.held_foot import FOUND_DOWN, STAYS_DOWN, UNPLUGGED, HeldFoot
from firmware_py.bench.show import show
from firmware_py.facts.acts import print as pa
from tests.bench.lamp_at_hand import LampAtHand


@pytest.fixture
def at() -> LampAtHand:
    at = LampAtHand()
    at.open_print()
    at.do(pa.SetBase(base_s=8.0))
    return at


def said(at: LampAtHand) -> set[str]:
    return {notice.words for notice in show(at.bench).notices}


@pytest.mark.parametrize(
    ("found_down", "is_down", "is_there", "is_stuck", "words"),
    [
        (False, False, True, False, ""),
        (False, True, True, False, ""),
        (False, True, True, True, STAYS_DOWN),
        (True, True, True, True, FOUND_DOWN),
        (True, False, True, False, ""),
        (True, True, False, True, UNPLUGGED),
    ],
)
def test_what_is_said_of_a_switch(found_down, is_down, is_there, is_stuck, words):
    """One thing at a time: that it is gone before all, then how it was found."""
    foot = HeldFoot()
    foot.begins(is_down=found_down)
    foot.looks(is_down=is_down, is_there=is_there)
    assert foot.words(is_stuck=is_stuck) == words


def test_a_switch_found_down_is_said_until_it_is_released(at):
    """The devices give no edge for such a press; the bench says why nothing happens."""
    at.bench.foot_found(is_down=True)
    at.pass_s(1.0)
    assert FOUND_DOWN in said(at)
    at.bench.foot_is(is_down=True)
    at.pass_s(1.0)
    assert FOUND_DOWN in said(at)
    at.bench.foot_is(is_down=False)
    at.pass_s(1.0)
    assert FOUND_DOWN not in said(at)
    at.press()
    assert at.is_lit


def test_something_that_leans_on_the_switch_never_lights_the_lamp(at):
    """The lamp goes on when a foot is lifted after a short press, not when it is put down."""
    at.foot(down=True)
    at.pass_s(30.0)
    assert STAYS_DOWN in said(at)
    at.foot(down=False)
    at.pass_s(2.0)
    assert at.lit == []
    assert not at.is_lit
    assert STAYS_DOWN not in said(at)
    at.press()
    assert at.is_lit


def test_a_second_switch_still_stops_the_lamp_while_the_first_is_stuck(at):
    """Stopping is never refused."""
    at.do(pa.Expose())
    at.foot(down=True)
    assert not at.is_lit
    at.pass_s(15.0)
    assert at.bench.foot.stuck
    at.do(pa.Expose())
    assert at.is_lit
    at.foot(down=True)
    assert not at.is_lit


def test_bounces_that_outlive_the_debounce_never_light_the_lamp_again(at):
    """A stop that chatters stays a stop: within half a second nothing is lit."""
    at.press()
    at.pass_s(3.0)
    for _ in range(5):
        at.foot(down=True)
        at.pass_s(0.03)
        at.foot(down=False)
        at.pass_s(0.03)
    assert not at.is_lit
    assert len(at.lit) == 1
