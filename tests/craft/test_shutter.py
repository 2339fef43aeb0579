"""Exposure times in words: near enough, in order, and as they are engraved."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.craft.shutter import say_exposure, write_exposure

IN_WORDS = [
    (1 / 1000, "1/1000 s", "1/1000s"),
    (0.008, "1/125 s", "1/125s"),
    (0.33, "1/3 s", "1/3s"),
    (0.4, "0.4 s", "0.4s"),
    (0.5, "1/2 s", "1/2s"),
    (0.98, "1 s", "1s"),
    (2.05, "2 s", "2s"),
    (59, "1 min", "1m"),
    (80, "1 min 20 s", "1m20s"),
    (150, "2 min 30 s", "2m30s"),
    (3600, "1 h", "1h"),
    (4800, "1 h 20 min", "1h20m"),
    (1e-5, "shorter than 1/1000 s", "<1/1000s"),
    (1e6, "longer than 24 h", ">24h"),
]


@pytest.mark.parametrize(("time_s", "said", "written"), IN_WORDS)
def test_times_in_words(time_s, said, written):
    assert say_exposure(time_s) == said
    assert write_exposure(time_s) == written


@given(st.floats(1 / 1000, 86400))
def test_what_is_said_is_within_a_fifth_of_a_stop(time_s):
    assert abs(math.log2(_seconds(say_exposure(time_s)) / time_s)) < 0.24


@given(st.floats(1 / 1000, 86400), st.floats(1, 3))
def test_longer_is_never_said_shorter(time_s, times):
    assert _seconds(say_exposure(min(86400, time_s * times))) >= _seconds(say_exposure(time_s))


@pytest.mark.parametrize("time_s", [0, -1, float("nan"), float("inf")])
def test_no_time_is_refused(time_s):
    with pytest.raises(Refused):
        say_exposure(time_s)


def _seconds(said):
    units = {"s": 1, "min": 60, "h": 3600}
    total = 0.0
    for number, unit in re.findall(r"([\d./]+) (s|min|h)", said):
        over, _, under = number.partition("/")
        total += float(over) / float(under or 1) * units[unit]
    return total
