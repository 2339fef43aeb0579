"""Debouncing, by example and by random bursts."""

import math

from hypothesis import given
from hypothesis import strategies as st

from firmware_py.devices.debounce import Debounce
from firmware_py.devices.foot_switch import FootEdge


def test_a_bouncing_press_is_one_press_at_its_first_edge():
    debounce = Debounce(down=False, settle_s=0.02)
    for at_s, down in [(1.000, True), (1.003, False), (1.005, True), (1.011, False), (1.012, True)]:
        assert debounce.raw(down=down, at_s=at_s) is None
    assert debounce.next_due_s() == 1.032
    assert debounce.settle(1.031) is None
    assert debounce.settle(1.032) == FootEdge(True, 1.000)
    assert debounce.is_down
    assert debounce.next_due_s() == math.inf


def test_a_disturbance_is_no_press():
    debounce = Debounce(down=False, settle_s=0.02)
    debounce.raw(down=True, at_s=1.000)
    debounce.raw(down=False, at_s=1.005)
    assert debounce.settle(1.1) is None
    debounce.raw(down=True, at_s=2.0)
    assert debounce.settle(2.1) == FootEdge(True, 2.0)


def test_a_switch_that_is_down_at_the_start_is_not_heard_until_it_was_released():
    debounce = Debounce(down=True, settle_s=0.02)
    debounce.raw(down=False, at_s=1.0)
    assert debounce.settle(1.1) is None
    assert not debounce.is_down
    debounce.raw(down=True, at_s=2.0)
    assert debounce.settle(2.1) == FootEdge(True, 2.0)


def test_a_late_callback_finds_the_step_before_it_in_the_right_order():
    debounce = Debounce(down=False, settle_s=0.02)
    debounce.raw(down=True, at_s=1.0)
    assert debounce.raw(down=False, at_s=1.5) == FootEdge(True, 1.0)
    assert debounce.settle(1.6) == FootEdge(False, 1.5)


steps = st.lists(
    st.tuples(st.floats(0.05, 2.0), st.lists(st.floats(0.0, 0.004), max_size=4)), min_size=1, max_size=12
)


@given(steps, st.booleans())
def test_any_bouncing_steps_come_out_as_they_were_meant(steps, polled):
    """Each step outlasts its bounce and the settling: it is told once, dated by its first edge."""
    debounce = Debounce(down=False, settle_s=0.02)
    told, meant = [], []
    now_s, down = 10.0, False
    for hold_s, bounces in steps:
        down = not down
        meant.append(FootEdge(down, now_s))
        told.append(debounce.raw(down=down, at_s=now_s))
        at_s = now_s
        for number, gap_s in enumerate([gap_s for gap_s in bounces for _ in range(2)]):
            at_s += gap_s
            told.append(debounce.raw(down=down ^ (number % 2 == 0), at_s=at_s))
        now_s = at_s + 0.021 + hold_s
        if polled:
            told.append(debounce.settle(now_s))
    told.append(debounce.settle(now_s))
    assert [edge for edge in told if edge] == meant


@given(st.lists(st.tuples(st.floats(0.0, 0.1), st.booleans()), max_size=60), st.booleans())
def test_whatever_the_contacts_do_the_steps_alternate_and_begin_with_down(noise, down_at_start):
    debounce = Debounce(down=down_at_start, settle_s=0.02)
    told, at_s = [], 5.0
    for gap_s, down in noise:
        at_s += gap_s
        told.append(debounce.raw(down=down, at_s=at_s))
    told.append(debounce.settle(at_s + 1.0))
    downs = [edge.down for edge in told if edge]
    assert downs == [number % 2 == 0 for number in range(len(downs))]
