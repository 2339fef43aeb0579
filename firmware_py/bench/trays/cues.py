"""What the bench says during a step, and when: a pure schedule."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from firmware_py.facts.tunes import Tune

SOON_S = 30.0
# Nearer to the end than this, "soon" would only be in the way of "now".
TOO_LATE_FOR_SOON_S = 5.0
OVERDUE_EVERY_S = 30.0
CALL_EVERY_S = 10.0
LOOK_EVERY_S = 60.0


@dataclass(frozen=True, slots=True)
class Cue:
    """Words and a tune for the moment ``due_s`` [boot s]; ``key`` tells one cue of a step from another."""

    key: str
    words: str
    tune: Tune
    due_s: float


@dataclass(frozen=True, slots=True)
class StepTimes:
    """What the cues of a step hang on, all moments in [boot s]; what is None does not come, or not yet.

    ``due_s`` moves with the bath, ``over_since_s`` is set once the step is over its time, ``at_ceiling``
    says that it is, or will be, by the ceiling of a development. The water of a wash is the ``water``-th.
    """

    name: str
    started_s: float
    due_s: float | None = None
    over_since_s: float | None = None
    at_ceiling: bool = False
    then: str = ""
    rock_every_s: float | None = None
    change_due_s: float | None = None
    water: int = 1
    look_from_s: float | None = None


def schedule(
    times: StepTimes, after_s: float, given: Collection[str] = (), now_s: float | None = None
) -> Iterator[Cue]:
    """Give the next cue of each kind: not yet given, and of those that come again the next after ``after_s``.

    ``now_s`` is when they are said, if that is later. Source: own; the half minute is common practice, no
    source.
    """
    yield from _rock(times, after_s, given)
    if times.over_since_s is not None:
        yield _again(times, times.over_since_s, after_s, given)
        return
    if times.change_due_s is not None:
        yield _change(times, times.change_due_s, after_s, given)
    if times.look_from_s is not None:
        turn = _turn(times.look_from_s - LOOK_EVERY_S, LOOK_EVERY_S, after_s, given, "look")
        at_s = times.look_from_s + (turn - 1) * LOOK_EVERY_S
        yield Cue(f"look {turn}", f"{times.name}: is the plate clear? Mark it", "look", at_s)
    if times.due_s is not None:
        yield from _towards_the_end(times, times.due_s, after_s if now_s is None else now_s, given)


def _towards_the_end(times: StepTimes, due_s: float, now_s: float, given: Collection[str]) -> Iterator[Cue]:
    left_s = min(SOON_S, due_s - now_s)
    if "soon" not in given and due_s - times.started_s > 2 * SOON_S and left_s > TOO_LATE_FOR_SOON_S:
        left = "half a minute" if left_s > SOON_S - 1.0 else f"{left_s:.0f} s"
        yield Cue("soon", f"{times.name}: {left} to go", "soon", due_s - SOON_S)
    if "now" not in given:
        words = f"{times.name} is at its ceiling" if times.at_ceiling else f"{times.name} is over"
        then = f"; {times.then}" if times.then else ""
        yield Cue("now", words + then, "call" if times.at_ceiling else "now", due_s)


def _rock(times: StepTimes, after_s: float, given: Collection[str]) -> Iterator[Cue]:
    if not times.rock_every_s:
        return
    turn = _turn(times.started_s, times.rock_every_s, after_s, given, "rock")
    side: Tune = "left" if turn % 2 else "right"
    at_s = times.started_s + turn * times.rock_every_s
    # One that falls on the very end would only be in its way.
    if times.due_s is None or times.over_since_s is not None or at_s < times.due_s - 1.0:
        yield Cue(f"rock {turn}", f"Rock the tray, {side} edge up", side, at_s)


def _again(times: StepTimes, since_s: float, after_s: float, given: Collection[str]) -> Cue:
    every_s = CALL_EVERY_S if times.at_ceiling else OVERDUE_EVERY_S
    turn = _turn(since_s, every_s, after_s, given, "over")
    words = f"{times.name} is over its {'ceiling' if times.at_ceiling else 'time'}"
    then = f"; {times.then}" if times.at_ceiling and times.then else ""
    tune: Tune = "call" if times.at_ceiling else "overdue"
    return Cue(f"over {turn}", words + then, tune, since_s + turn * every_s)


def _change(times: StepTimes, change_s: float, after_s: float, given: Collection[str]) -> Cue:
    key = f"water {times.water}"
    if key not in given:
        return Cue(key, f"{times.name}: change the water", "water", change_s)
    turn = _turn(change_s, OVERDUE_EVERY_S, after_s, given, f"{key} again")
    words = f"{times.name}: the water still waits to be changed"
    return Cue(f"{key} again {turn}", words, "overdue", change_s + turn * OVERDUE_EVERY_S)


def _turn(since_s: float, every_s: float, after_s: float, given: Collection[str], name: str) -> int:
    """Return the number of the next turn after ``after_s`` that was not given."""
    turn = int(max(0.0, after_s - since_s) // every_s) + 1
    while f"{name} {turn}" in given:
        turn += 1
    return turn
