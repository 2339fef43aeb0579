"""An idle screen goes black, and a call wakes it; a bench at work keeps it lit unless that is not wanted."""

from __future__ import annotations

import msgspec
import pytest

from firmware_py.facts.tunes import Tune
from firmware_py.facts.views.bench import NoticeView, SoundView
from tests.tui.sample_bench import NOW_S, bench, due, ended, fixing, lane
from tui.blanking import Blanking


def sounded(number: int, tune: Tune, view=None):
    return msgspec.structs.replace(view or bench(), sounded=SoundView(number=number, tune=tune))


def looked(blanking: Blanking, view, *moments_s: float, lost: bool = False) -> bool:
    for now_s in moments_s:
        blanking.look(view, now_s, lost=lost)
    return blanking.is_black


def test_without_the_setting_it_never_goes_black():
    assert not looked(Blanking(), bench(), 0.0, 1e6)


def test_an_idle_bench_lets_it_go_black_and_a_key_wakes_it():
    blanking = Blanking(60.0)
    assert not looked(blanking, bench(), 0.0, 59.9)
    assert looked(blanking, bench(), 60.0)
    blanking.wake(70.0)
    assert not looked(blanking, bench(), 129.0)
    assert looked(blanking, bench(ended(1)), 130.0)


@pytest.mark.parametrize("view", [bench(lane(1)), bench(fixing(1)), bench(due(1))])
def test_a_plate_in_a_bath_keeps_it_lit_unless_it_shall_always_go_black(view):
    assert not looked(Blanking(60.0), view, 0.0, 600.0, 1200.0)
    assert looked(Blanking(60.0, always=True), view, 0.0, 60.0)


def test_a_fault_a_lost_line_and_a_bench_never_seen_keep_it_lit():
    fault = bench(notices=(NoticeView(words="x", since_s=NOW_S, trouble=True),))
    assert not looked(Blanking(60.0), fault, 0.0, 600.0)
    assert not looked(Blanking(60.0, always=True), bench(), 0.0, 600.0, lost=True)
    assert not looked(Blanking(60.0, always=True), None, 0.0, 600.0)


@pytest.mark.parametrize(
    ("tune", "wakes"), [("now", True), ("trouble", True), ("left", False), ("heard", False)]
)
def test_only_a_sound_that_calls_for_eyes_wakes_it(tune, wakes):
    blanking = Blanking(60.0, always=True)
    assert looked(blanking, sounded(7, "call"), 0.0, 60.0)
    assert looked(blanking, sounded(8, tune), 61.0) is not wakes
    # What was sounded once is no news the next time.
    assert looked(blanking, sounded(8, tune), 121.0)
