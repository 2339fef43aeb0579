"""Bounce: what belongs to one movement of the contacts, and what debounce is proposed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.bounce import LEAST_S, MOST_S, bounce_of
from firmware_py.craft.refusal import Refused


def movements(*bounces_s, count=10):
    """Return edges of movements half a second apart, each with these bounces after its first edge."""
    return [number * 0.5 + bounce_s for number in range(count) for bounce_s in (0.0, *bounces_s)]


@pytest.mark.parametrize(
    ("bounces_s", "longest_s", "proposed_s"),
    [
        ((), 0.0, 0.02),
        ((0.001, 0.004), 0.004, 0.02),
        ((0.005, 0.0125), 0.0125, 0.025),
        ((0.01, 0.02), 0.02, 0.04),
        ((0.03, 0.06), 0.06, 0.1),
    ],
)
def test_the_debounce_is_twice_the_longest_bounce(bounces_s, longest_s, proposed_s):
    found = bounce_of(movements(*bounces_s))
    assert found.movements == 10
    assert found.longest_s == pytest.approx(longest_s)
    assert found.proposed_s == pytest.approx(proposed_s)
    assert found.is_worn == (longest_s > 0.05)


@pytest.mark.parametrize("edges_s", [[], movements(count=9), [2.0, 1.0], [float("nan")]])
def test_too_few_or_impossible_edges_are_refused(edges_s):
    with pytest.raises(Refused, match="bounce"):
        bounce_of(edges_s)


@given(st.lists(st.floats(0.0, 1e6), max_size=60))
def test_any_moments_give_a_debounce_within_bounds_or_a_refusal(moments_s):
    try:
        found = bounce_of(sorted(moments_s))
    except Refused:
        return
    assert LEAST_S <= found.proposed_s <= MOST_S
