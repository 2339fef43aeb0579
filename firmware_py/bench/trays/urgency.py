"""Which tray needs the person most, and for what."""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum

from firmware_py.bench.trays.cues import SOON_S
from firmware_py.bench.trays.due import change_due_s, due, look_due_s
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.step_times import then_words


class Urgency(IntEnum):
    """How much a tray needs a person, most first. Source: own."""

    CALLS = 0  # a development is over its ceiling
    ENDS_SOON = 1  # a development ends within half a minute
    INTERRUPTED = 2  # nothing counts until the run is taken up
    OVER = 3  # a plate not yet fixed is over the time of its bath, or its fixer wants to be looked at
    WAITS = 4  # a fixed plate is over its time, or its water wants changing
    DEVELOPS = 5
    GOES_ON = 6
    READY = 7
    ENDED = 8


def urgency(lane: Lane, now_s: float) -> tuple[Urgency, float]:  # noqa: PLR0911 - one return for each degree
    """Return how urgent a tray is, and within a degree by the moment [boot s] it needs the person."""
    record, plan = lane.record, lane.plan
    if record.state == "ended" or plan is None:
        return Urgency.ENDED, 0.0
    if lane.away is not None:
        return Urgency.INTERRUPTED, 0.0
    if record.state == "ready":
        return Urgency.READY, 0.0
    if record.state == "due" and lane.here is not None:
        return _over(lane), record.boot_s_at(lane.here.due_s or 0.0)
    coming = due(lane, now_s)
    due_s = coming.at_s if coming is not None else float("inf")
    if lane.is_developing:
        is_near = coming is not None and due_s - now_s <= SOON_S
        return (Urgency.ENDS_SOON if is_near else Urgency.DEVELOPS), due_s
    asked_s = min((m for m in (change_due_s(lane), look_due_s(lane)) if m is not None), default=float("inf"))
    if asked_s <= now_s:
        return (Urgency.OVER if lane.is_open else Urgency.WAITS), asked_s
    return Urgency.GOES_ON, min(due_s, asked_s)


def by_urgency(lanes: Iterable[Lane], now_s: float) -> list[Lane]:
    """Return the trays, the one that needs the person most first."""
    return sorted(lanes, key=lambda lane: (*urgency(lane, now_s), lane.number))


def most_urgent(lanes: Iterable[Lane], now_s: float) -> Lane | None:
    """Return the tray that needs the person most now, None where none needs anything."""
    first = next(iter(by_urgency(lanes, now_s)), None)
    return first if first is not None and needs(first, now_s) else None


def needs(lane: Lane, now_s: float) -> str:  # noqa: PLR0911 - one return for each degree
    """Return what a tray needs of a person now, in few words; nothing where all goes by itself."""
    plan = lane.plan
    if plan is None:
        return ""
    match urgency(lane, now_s)[0]:
        case Urgency.CALLS:
            return "pull the plate: it is over its ceiling"
        case Urgency.ENDS_SOON:
            return f"be ready: {then_words(lane)}"
        case Urgency.INTERRUPTED:
            return "take the run up again, or say how long it lay"
        case Urgency.READY:
            return f"plate into {plan.bath}"
        case Urgency.OVER | Urgency.WAITS:
            return _asked(lane)
        case _:
            return ""


def _over(lane: Lane) -> Urgency:
    if lane.is_developing:
        return Urgency.CALLS
    return Urgency.OVER if lane.is_open else Urgency.WAITS


def _asked(lane: Lane) -> str:
    if lane.record.state == "due":
        return then_words(lane)
    return "change the water" if look_due_s(lane) is None else "look whether the plate is clear"
