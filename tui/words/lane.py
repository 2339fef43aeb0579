"""One tray in words: what goes on, how long still, what comes next, what the person is waited for."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.service.shapes import LaneView, StepView
from tui.words.bath import bath_words, is_doubtful
from tui.words.times import about, cut, gone_words, left_words, next_change_s, printable, time_words

WAITING = frozenset({"ready", "due", "interrupted"})


@dataclass(frozen=True, slots=True)
class LaneWords:
    """All that is said of the tray in focus. ``waiting``: nothing goes on until a person acts."""

    title: str = ""
    what: str = ""
    digits: str = ""
    call: str = ""
    waiting: bool = False
    equivalent: str = ""
    done: float | None = None
    bath: str = ""
    bath_doubtful: bool = False
    cue: str = ""
    foot: str = ""
    held: str = ""
    seen: str = ""


def lane_words(lane: LaneView, now_s: float, as_of_s: float) -> LaneWords:
    """Return the words at ``now_s`` [boot s] for a tray that was seen at ``as_of_s`` [boot s]."""
    equivalent_s = equivalent_now_s(lane, now_s - as_of_s)
    share = equivalent_s / lane.target_s if equivalent_s is not None and lane.target_s else None
    return LaneWords(
        title=title(lane),
        what=what_goes_on(lane),
        digits=large_time(lane, now_s),
        call=call(lane),
        waiting=lane.state in WAITING,
        equivalent=_equivalent(lane, equivalent_s),
        done=share,
        bath=bath_words(lane.bath, now_s) if lane.bath else "",
        bath_doubtful=lane.bath is not None and is_doubtful(lane.bath, now_s),
        cue=_cue(lane, now_s),
        foot=f"Foot: {printable(lane.foot_short)}" if lane.foot_short else "",
        held=f"Foot held: {printable(lane.foot_long)}" if lane.foot_long else "",
        seen=_seen(lane),
    )


def title(lane: LaneView) -> str:
    """Return which tray, plate and routine."""
    return f" Tray {lane.lane}  {printable(lane.plate)}   {printable(lane.routine)}"


def step_here(lane: LaneView) -> StepView | None:
    """Return the step that goes on or comes next."""
    return next((step for step in lane.steps if step.place == "here"), None)


def step_after(lane: LaneView) -> StepView | None:
    """Return the first step that comes after it."""
    return next((step for step in lane.steps if step.place == "to come"), None)


def is_developing(lane: LaneView) -> bool:
    """Return whether the plate lies in a developer now."""
    return lane.state == "running" and lane.equivalent_s is not None


def what_goes_on(lane: LaneView) -> str:
    """Return the line above the large digits."""
    step = step_here(lane)
    name = printable(step.name).upper() if step else ""
    match lane.state:
        case "ready":
            return f"READY for {name}: will take about"
        case "running":
            return f"{name}: time left"
        case "due":
            return f"{name}: OVER ITS TIME by"
        case "interrupted":
            return "INTERRUPTED: nothing counts now"
        case "ended":
            return "This run is over"


def call(lane: LaneView) -> str:
    """Return the line below the large digits: what the person is asked for, or how sure the end is."""
    step, after = step_here(lane), step_after(lane)
    match lane.state:
        case "ready":
            return f"Plate into {printable(step.bath) if step else 'the bath'} and Enter"
        case "due":
            return f"On to {printable(after.name)}: Enter" if after else "Take it out: Enter"
        case "interrupted":
            return "Enter: take it up   W: say how long it lay"
        case "running" if lane.doubt_s is not None and lane.doubt_s >= 0.5:
            return f"The end may come {about(lane.doubt_s)} sooner or later"
        case _:
            return ""


def large_time(lane: LaneView, now_s: float) -> str:
    """Return the large digits: left, over, or what it will take; nothing when nothing counts."""
    step = step_here(lane)
    if lane.state == "running" and lane.due_s is not None:
        return left_words(lane.due_s - now_s)
    if lane.state == "due" and lane.due_s is not None:
        return gone_words(now_s - lane.due_s)
    if lane.state == "ready" and step is not None:
        return time_words(round(step.planned_s))
    return ""


def next_tick_s(lane: LaneView, now_s: float) -> float:
    """Return in how many seconds of the bench the large digits of a tray change."""
    if lane.due_s is None:
        return 1.0
    if lane.state == "due":
        return next_change_s(now_s - lane.due_s, falling=False)
    return next_change_s(lane.due_s - now_s, falling=True)


def equivalent_now_s(lane: LaneView, since_seen_s: float) -> float | None:
    """Return the equivalent time [s], carried on since the tray was seen at the rate it had then."""
    if lane.equivalent_s is None or lane.state != "running" or lane.rate is None:
        return lane.equivalent_s
    carried_s = lane.equivalent_s + max(0.0, since_seen_s) * lane.rate
    return carried_s if lane.target_s is None else min(lane.target_s, carried_s)


def urgency(lane: LaneView, now_s: float) -> tuple[int, float]:
    """Return what sorts trays: over their time first, the longest on top; then by time left."""
    order = {"due": 0, "interrupted": 1, "running": 2, "ready": 3, "ended": 4}[lane.state]
    return order, (lane.due_s - now_s) if lane.due_s is not None else 0.0


def one_line(lane: LaneView, now_s: float, width: int) -> str:
    """Return a tray in one line no longer than ``width``."""
    step = step_here(lane)
    name = printable(step.name) if step else ""
    time = large_time(lane, now_s)
    words = {
        "due": f"{name} OVER {time}",
        "interrupted": "INTERRUPTED",
        "running": f"{name} {time}",
        "ready": f"ready: {name}",
        "ended": "over",
    }[lane.state]
    sign = {"due": "!", "interrupted": "!", "running": "►", "ready": "○", "ended": " "}[lane.state]
    start = f"{sign} {lane.lane} {words}"
    return cut(f"{start}  {printable(lane.plate)}", width)


def _equivalent(lane: LaneView, equivalent_s: float | None) -> str:
    if lane.target_s is None:
        return ""
    worth = f"{time_words(round(lane.target_s))} at {lane.reference_degC:.4g} °C"
    if equivalent_s is None:
        return f"Equivalent time wanted: {worth}"
    return f"Equivalent {gone_words(equivalent_s)} of {worth}"


def _cue(lane: LaneView, now_s: float) -> str:
    cue = lane.next_cue
    if cue is None:
        return ""
    return f"In {left_words(cue.due_s - now_s)}: {printable(cue.words)}"


def _seen(lane: LaneView) -> str:
    """Return the marks made, newest first, as the newest matters most where the line ends."""
    seen = [f"{printable(mark.what)} {gone_words(mark.elapsed_s)}" for mark in reversed(lane.marks)]
    return f"Seen: {', '.join(seen)}" if seen else ""
