"""A sound can be asked for, and a screen hears of every sound that was played."""

from __future__ import annotations

from firmware_py.bench.show import show
from firmware_py.facts.acts import run as acts
from firmware_py.facts.tunes import MEANINGS, PATTERNS
from tests.bench.bench_at_hand import BenchAtHand


def test_a_sound_that_is_asked_for_is_played_and_counted():
    at = BenchAtHand()
    assert show(at.bench).sounded is None
    at.do(acts.PlaySound(tune="call"))
    at.do(acts.PlaySound(tune="left"))
    assert at.tunes == ["call", "left"]
    sounded = show(at.bench).sounded
    assert sounded is not None
    assert (sounded.number, sounded.tune) == (2, "left")


def test_every_pattern_has_a_meaning():
    assert list(MEANINGS) == list(PATTERNS)
