"""The bench's time between two views."""

from __future__ import annotations

import math

import pytest

from tests.tui.sample_bench import NOW_S, bench
from tui.bench_time import BenchTime


@pytest.fixture
def own():
    return [100.0]


@pytest.fixture
def time(own):
    bench_time = BenchTime(lambda: own[0])
    bench_time.set(bench(as_of_s=NOW_S))
    return bench_time


def test_time_goes_on_by_the_screens_own_clock(own, time):
    own[0] += 2.5
    assert time.now_s() == NOW_S + 2.5


def test_a_fast_bench_goes_on_faster(own, time):
    time.set(bench(as_of_s=NOW_S, speed=20.0))
    own[0] += 0.5
    assert time.now_s() == NOW_S + 10.0
    assert time.own_s(1.0) == 0.05


def test_a_view_that_was_long_on_its_way_does_not_turn_time_back(own, time):
    own[0] += 1.3
    time.set(bench(as_of_s=NOW_S + 1.0))
    assert time.now_s() == pytest.approx(NOW_S + 1.3)


def test_a_view_from_another_time_is_believed(own, time):
    own[0] += 1.0
    time.set(bench(as_of_s=12.0))
    assert time.now_s() == 12.0


def test_a_bench_at_infinite_speed_stands_still(own, time):
    time.set(bench(as_of_s=NOW_S, speed=math.inf))
    own[0] += 3.0
    assert time.now_s() == NOW_S
    assert time.own_s(1.0) == math.inf
