"""What light may fall on a plate or paper, anywhere in any routine. Rules: common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.light_allowed import (
    STEP_KINDS,
    Sensitivity,
    darkest,
    is_fixed,
    light_allowed,
    needs_darkness,
)
from firmware_py.craft.routine import Light, Routine, Step

SENSITIVITIES = [None, *get_args(Sensitivity)]
LIGHTS = get_args(Light)


def routine(*kinds: str, **light: str) -> Routine:
    """Return a routine of such steps; ``light`` says what light a kind of step asks for."""
    steps = tuple(Step(k.title(), k, "bath", time_s=60.0, light=light.get(k, "white")) for k in kinds)  # type: ignore[arg-type]
    return Routine("r", "r", "own", steps)


@st.composite
def routines(draw) -> Routine:
    steps = st.builds(
        Step,
        name=st.just("step"),
        kind=st.sampled_from(sorted(STEP_KINDS)),
        bath=st.just("bath"),
        light=st.sampled_from(LIGHTS),
    )
    sheet = draw(st.sampled_from(["plate", "paper"]))
    return Routine("r", "r", "own", tuple(draw(st.lists(steps, min_size=1, max_size=9))), sheet=sheet)


PLACES = routines().flatmap(lambda r: st.tuples(st.just(r), st.integers(0, len(r.steps))))


@given(PLACES, st.sampled_from(SENSITIVITIES), st.booleans())
def test_white_light_is_never_allowed_before_the_last_fixing_step_is_over(at, sensitivity, dark):
    """The last fixing step found by a walk of this test's own, from the end."""
    made, place = at
    still_to_fix = any(step.kind == "fix" for step in made.steps[place:])
    never_fixed = all(step.kind != "fix" for step in made.steps)
    if still_to_fix or never_fixed:
        assert light_allowed(made, place, sensitivity, dark=dark) != "white"
        assert not is_fixed(made, place)


@given(PLACES, st.sampled_from(SENSITIVITIES), st.booleans())
def test_a_step_may_ask_for_less_light_and_never_for_more(at, sensitivity, dark):
    made, place = at
    free = replace(made, steps=tuple(replace(step, light="white") for step in made.steps))
    asked: Light = made.steps[place].light if place < len(made.steps) else "white"
    allowed = light_allowed(made, place, sensitivity, dark=dark)
    assert allowed == darkest((asked, light_allowed(free, place, sensitivity, dark=dark)))


def test_a_plate_that_is_developed_washed_and_then_fixed_gets_no_white_light_in_that_wash():
    made = routine("develop", "wash", "fix", "wash")
    assert [light_allowed(made, n) for n in range(5)] == ["safelight"] * 3 + ["white"] * 2


def test_between_two_fixers_a_plate_is_not_fixed():
    made = routine("develop", "fix", "rinse", "fix", "wash", fix="white")
    assert [light_allowed(made, n) for n in range(5)] == ["safelight"] * 4 + ["white"]


@pytest.mark.parametrize(
    ("sensitivity", "dark", "light"),
    [
        (None, False, "safelight"),
        ("blue", False, "safelight"),
        ("orthochromatic", False, "safelight"),
        ("panchromatic", False, "dark"),
        ("blue", True, "dark"),
        ("infrared", False, "dark"),
    ],
)
def test_before_it_is_fixed_a_plate_gets_what_its_sensitivity_stands(sensitivity, dark, light):
    """One of an unknown sensitivity gets none, in any step, the wash before a fixer included."""
    made = routine("soak", "develop", "wash", "fix", "wash")
    assert [light_allowed(made, n, sensitivity, dark=dark) for n in range(5)] == [light] * 4 + ["white"]


def test_a_step_of_an_unknown_kind_gets_no_light_wherever_it_stands():
    made = routine("develop", "reverse", "fix", "tone")
    assert [light_allowed(made, n) for n in range(5)] == ["safelight", "dark", "safelight", "dark", "white"]


def test_a_routine_without_a_fixer_never_gets_white_light():
    made = routine("develop", "wash")
    assert [light_allowed(made, n) for n in range(3)] == ["safelight"] * 3


def test_what_a_step_asks_for_holds_after_the_fixer_too():
    made = routine("develop", "fix", "dry", dry="safelight")
    assert light_allowed(made, 2) == "safelight"


def test_a_negative_place_is_refused():
    with pytest.raises(IndexError, match="-1"):
        light_allowed(routine("fix"), -1)


@pytest.mark.parametrize(
    ("made", "sensitivity", "needed"),
    [
        (routine("develop", "fix"), "blue", False),
        (routine("develop", "fix"), "panchromatic", True),
        (routine("develop", "fix", develop="dark"), None, True),
    ],
)
def test_darkness_is_foreseen(made, sensitivity, needed):
    assert needs_darkness(made, sensitivity) is needed


def test_the_room_gets_what_all_allow():
    assert darkest(["white", "dark", "safelight"]) == "dark"
    assert darkest(["white", "safelight"]) == "safelight"
    assert darkest([]) == "white"
