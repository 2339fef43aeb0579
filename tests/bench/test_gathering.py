"""Several probes in one place: their median counts, a wild one does not, and a quarrel is seen."""

from __future__ import annotations

from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.bench.warmth.gathering import Gathering
from firmware_py.bench.warmth.thermometry import STALE_S
from firmware_py.devices.probe import NoReading, Reading

THREE = ("a", "b", "c")


def said(gathering: Gathering, degrees: dict[str, float], now_s: float = 100.0):
    """Let each probe speak once, in the order given; return all that the place said."""
    words = [gathering.take(probe, Reading(one, 0.5, now_s)) for probe, one in degrees.items()]
    return [word for word in words if word is not None]


def test_a_single_probe_is_passed_on_as_it_is():
    word = Reading(20.0625, 0.5, 1.0, "trace")
    alone = Gathering(["a"])
    assert alone.take("a", word) is word
    silent = NoReading("no wire", 2.0)
    assert alone.take("a", silent) is silent


@given(st.tuples(*[st.floats(0.0, 40.0)] * 3), st.floats(-5.0, 60.0))
def test_the_place_says_the_median_once_a_second_and_a_wild_probe_moves_it_no_further_than_its_fellows(
    three, wild
):
    gathering = Gathering(THREE)
    said(gathering, dict(zip(THREE, three, strict=True)), 99.0)
    (word,) = said(gathering, {"b": three[1], "c": wild, "a": three[0]})
    assert word.bath_degC == pytest.approx(median((three[0], three[1], wild)))
    assert min(three[:2]) <= word.bath_degC <= max(three[:2])


def test_a_silent_probe_is_missed_for_a_moment_only():
    """Its last reading grows stale; then the others speak without it, and for it."""
    gathering = Gathering(("a", "b"))
    said(gathering, {"a": 20.0, "b": 21.0}, 100.0)
    assert gathering.take("a", NoReading("no wire", 101.0)) is None
    later_s = 100.0 + STALE_S
    (word,) = said(gathering, {"b": 21.0}, later_s)
    assert word.bath_degC == 21.0
    silent = NoReading("no wire", later_s + STALE_S)
    assert gathering.take("b", silent) is silent


def test_two_that_differ_by_more_than_they_may_quarrel():
    gathering = Gathering(("a", "b"))
    said(gathering, {"b": 20.9, "a": 20.0})
    assert gathering.quarrel_K is None
    (word,) = said(gathering, {"b": 22.0, "a": 20.0}, 101.0)
    assert gathering.quarrel_K == pytest.approx(2.0)
    assert (word.bath_degC, word.tolerance_K) == (21.0, 1.0)


def test_a_probe_that_is_left_out_is_forgotten():
    gathering = Gathering(("a", "b"))
    said(gathering, {"b": 22.0, "a": 20.0})
    gathering.leave_out("a")
    (word,) = said(gathering, {"b": 22.0}, 101.0)
    assert word.bath_degC == 22.0
    assert gathering.quarrel_K is None
