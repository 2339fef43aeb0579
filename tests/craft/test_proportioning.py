"""A share of power by windows of time."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.proportioning import on_time_s
from firmware_py.craft.refusal import Refused


@pytest.mark.parametrize(
    ("share", "on_s"),
    [(0.0, 0.0), (0.5, 10.0), (1.0, 20.0), (0.04, 0.0), (0.96, 20.0), (-1.0, 0.0), (7.0, 20.0)],
)
def test_the_share_of_a_window(share, on_s):
    """Of 20 s, with no pulse and no pause under 1 s."""
    assert on_time_s(share, 20.0, 1.0) == pytest.approx(on_s)


@given(st.floats(-2, 2), st.floats(1, 120), st.floats(0, 5))
def test_no_pulse_and_no_pause_is_shorter_than_the_shortest(share, window_s, shortest_s):
    on_s = on_time_s(share, window_s, shortest_s)
    assert 0.0 <= on_s <= window_s
    assert on_s in {0.0, window_s} or (on_s >= shortest_s and window_s - on_s >= shortest_s)


def test_more_power_is_never_less_time():
    times = [on_time_s(n / 100, 30.0, 1.5) for n in range(101)]
    assert times == sorted(times)


@pytest.mark.parametrize(("window_s", "shortest_s"), [(0.0, 1.0), (20.0, -1.0), (float("nan"), 1.0)])
def test_a_window_that_is_none_is_refused(window_s, shortest_s):
    with pytest.raises(Refused):
        on_time_s(0.5, window_s, shortest_s)
