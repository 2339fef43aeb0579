"""What light may fall on a plate, or on paper, at a place in its routine: the one answer for all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Literal, get_args

from firmware_py.craft.routine import Light, Routine, StepKind

# What a plate sees: blue and ultraviolet; green and yellow as well; red as well.
Sensitivity = Literal["blue", "orthochromatic", "panchromatic"]

# The most light a plate stands before it is fixed. No light is safe for a panchromatic plate for long.
# Common practice, no source.
BEFORE_FIXING: Mapping[str, Light] = MappingProxyType(
    {"blue": "safelight", "orthochromatic": "safelight", "panchromatic": "dark"}
)
# A plate of which nobody has said what it sees is taken for one of the usual kind, like the safelight itself.
USUAL_BEFORE_FIXING: Light = "safelight"
STEP_KINDS = frozenset(get_args(StepKind))
_DARKEST_FIRST: tuple[Light, ...] = ("dark", "safelight", "white")


def light_allowed(
    routine: Routine, position: int, sensitivity: str | None = None, *, dark: bool = False
) -> Light:
    """Return the most light that may fall on what goes through ``routine`` while it is at ``position``.

    ``position`` is the number of the step that is going on or comes next, from 0; as many as there are steps
    once the last is over. Before the last fixing step is over it is never white; without a fixing step it
    never becomes white. ``dark`` says that this plate stands no light before it is fixed. A step may ask for
    less light, never for more. A step or sensitivity of an unknown kind gets none.
    Raises IndexError for a negative ``position``. Source: common practice, no source.
    """
    if position < 0:
        raise IndexError(f"position is {position}; allowed: 0 to {len(routine.steps)}")
    step = routine.steps[position] if position < len(routine.steps) else None
    if step is not None and step.kind not in STEP_KINDS:
        return "dark"
    asked: Light = step.light if step is not None else "white"
    if is_fixed(routine, position):
        return asked
    return darkest((asked, "dark" if dark else before_fixing(sensitivity)))


def before_fixing(sensitivity: str | None) -> Light:
    """Return the most light that a plate of such sensitivity stands before it is fixed.

    Source: common practice, no source.
    """
    if sensitivity is None:
        return USUAL_BEFORE_FIXING
    return BEFORE_FIXING.get(sensitivity, "dark")


def is_fixed(routine: Routine, position: int) -> bool:
    """Return whether the last fixing step of a routine is over at ``position``; never without one.

    Source: own.
    """
    fixes = [number for number, step in enumerate(routine.steps) if step.kind == "fix"]
    return bool(fixes) and position > fixes[-1]


def needs_darkness(routine: Routine, sensitivity: str | None) -> bool:
    """Return whether there is any place in a routine at which such a plate may get no light at all.

    Source: own.
    """
    places = range(len(routine.steps))
    return any(light_allowed(routine, place, sensitivity) == "dark" for place in places)


def darkest(lights: Iterable[Light]) -> Light:
    """Return the least of these lights: what all of them allow; white where there are none. Source: own."""
    return min(lights, key=_DARKEST_FIRST.index, default="white")
