"""The schedule of cues: pure, each once, none lost when the end of the step moves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firmware_py.bench.trays.cue_state import CueState
from firmware_py.bench.trays.cues import StepTimes, schedule
from firmware_py.facts.acts import run as acts
from firmware_py.facts.tunes import PATTERNS
from tests.bench.trays_at_hand import ALL, BY_TIME, DEVELOP, TraysAtHand, routine

TIMES = StepTimes("Develop", started_s=100.0, due_s=400.0, then="on to Rinse", rock_every_s=60.0)


def played(times: StepTimes, to_s: float, step_s: float = 0.5) -> list[tuple[float, str]]:
    """Return the moments and tunes of a step, looked at every half second."""
    state, now_s = CueState(), times.started_s
    given: list[tuple[float, str]] = []
    state.begin_step(now_s)
    while now_s < to_s:
        now_s += step_s
        given += [(cue.due_s, cue.tune) for cue in state.take(times, now_s)]
    return given


def test_a_step_is_rocked_left_and_right_then_soon_then_now():
    """None of the rocking falls on the end."""
    assert played(TIMES, 400.0) == [
        (160.0, "left"),
        (220.0, "right"),
        (280.0, "left"),
        (340.0, "right"),
        (370.0, "soon"),
        (400.0, "now"),
    ]


def test_a_short_step_has_no_half_minute_to_go():
    """A rinse of 30 s would begin with it."""
    assert played(StepTimes("Rinse", 0.0, due_s=30.0), 30.0) == [(30.0, "now")]


def test_a_step_over_its_time_is_said_every_half_minute():
    assert played(StepTimes("Fix", 0.0, over_since_s=10.0), 75.0) == [(40.0, "overdue"), (70.0, "overdue")]


def test_a_development_over_its_ceiling_is_called_every_ten_seconds_and_still_rocked():
    over = replace(TIMES, due_s=None, over_since_s=400.0, at_ceiling=True)
    tunes = [tune for at_s, tune in played(over, 430.0) if at_s > 400.0]
    assert sorted(tunes) == ["call", "call", "call"]
    assert (220.0, "right") in played(over, 430.0)


def test_a_bath_that_grows_warmer_loses_no_cue():
    """The end jumps to ten seconds from now: the half minute is past, and is said with what is left."""
    state = CueState()
    state.begin_step(100.0)
    state.take(TIMES, 350.0)
    cues = state.take(replace(TIMES, due_s=361.0), 351.0)
    assert [(c.tune, c.words) for c in cues] == [("soon", "Develop: 10 s to go")]
    assert [c.tune for c in state.take(replace(TIMES, due_s=361.0), 361.0)] == ["now"]


def test_a_bath_that_grows_colder_says_no_cue_twice():
    state = CueState()
    state.begin_step(100.0)
    state.take(TIMES, 371.0)
    later = replace(TIMES, due_s=500.0)
    assert [c.tune for c in state.take(later, 470.0) if c.tune == "soon"] == []


def test_after_a_pause_no_stale_rocking_is_made_up_for():
    """One turn at most, the next."""
    state = CueState()
    state.begin_step(100.0)
    cues = state.take(TIMES, 345.0)
    assert [c.tune for c in cues if c.tune in {"left", "right"}] == ["left"]


def test_the_next_cue_is_never_one_that_was_given():
    state = CueState()
    state.begin_step(100.0)
    state.take(TIMES, 160.0)
    coming = state.next(TIMES, 160.0)
    assert coming is not None
    assert coming.due_s == 220.0


def test_every_cue_has_a_tune_that_can_be_told_from_the_others():
    """And there are no others than those of the sounder."""
    many = [
        TIMES,
        replace(TIMES, at_ceiling=True),
        replace(TIMES, over_since_s=400.0),
        StepTimes("Wash", 0.0, change_due_s=60.0),
        StepTimes("Fix", 0.0, look_from_s=60.0),
    ]
    tunes = {cue.tune for times in many for cue in schedule(times, 0.0)}
    assert tunes <= set(PATTERNS)
    assert {"left", "soon", "now", "overdue", "water", "look", "call"} <= tunes


def test_when_two_trays_speak_at_once_the_more_urgent_sounds_last():
    """What sounds last cuts the other off: "now" is never lost to a call to rock."""
    quick = routine(
        replace(DEVELOP, development=replace(BY_TIME, target_s=60.0), agitate_every_s=None), name="quick"
    )
    at = TraysAtHand(ALL, quick)
    at.do(acts.OpenRun(plate="A", routine="quick"))
    at.do(acts.OpenRun(plate="B", routine="all"))
    at.do(acts.Proceed(lane=1))
    at.do(acts.Proceed(lane=2))
    at.pass_s(61.0)
    together = [tune for at_s, tune in at.tunes if at_s == pytest.approx(110.0, abs=1e-6)]
    assert together == ["right", "now"]
