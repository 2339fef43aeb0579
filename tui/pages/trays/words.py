"""The tray in focus in words: what goes on, how long, what comes next, what the person is waited for."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.run import LaneView, StepView
from tui.pages.shared.time_words import about, gone_words, left_words, next_change_s, printable, time_words
from tui.pages.trays.bath_words import bath_words, is_doubtful, outside_words
from tui.pages.trays.development_words import clocks, equivalent_words, is_by_eye, precedent_words, share_done

WAITING = frozenset({"ready", "due", "interrupted"})
LIGHT = {"dark": "TOTAL DARKNESS", "safelight": "safelight only", "white": "fixed"}


@dataclass(frozen=True, slots=True)
class LaneWords:
    """All that is said of the tray in focus. ``waiting``: it wants something of a person now."""

    title: str = ""
    light: str = ""
    what: str = ""
    digits: str = ""
    call: str = ""
    waiting: bool = False
    precedent: str = ""
    equivalent: str = ""
    done: float | None = None
    bath: str = ""
    bath_doubtful: bool = False
    foot: str = ""
    held: str = ""
    seen: str = ""


def lane_words(lane: LaneView, now_s: float, as_of_s: float) -> LaneWords:
    """Return the words at ``now_s`` [boot s] for a tray that was seen at ``as_of_s`` [boot s]."""
    equivalent_s = equivalent_now_s(lane, now_s - as_of_s)
    outside = outside_words(lane)
    return LaneWords(
        title=title(lane),
        light=light_words(lane),
        what=what_goes_on(lane),
        digits=large_time(lane, now_s),
        call=call(lane, now_s),
        waiting=lane.state in WAITING or bool(lane.needs),
        precedent=precedent_words(lane),
        equivalent=equivalent_words(lane, equivalent_s),
        done=share_done(lane, equivalent_s),
        bath=outside or (bath_words(lane.bath, now_s) if lane.bath else ""),
        bath_doubtful=lane.bath is not None and (bool(outside) or is_doubtful(lane.bath, now_s)),
        foot=f"Foot or Space: {printable(lane.foot_short)}" if lane.foot_short else "",
        held=f"Foot held or F: {printable(lane.foot_long)}" if lane.foot_long else "",
        seen="   ".join(words for words in (_cue(lane, now_s), _seen(lane)) if words),
    )


def title(lane: LaneView) -> str:
    """Return which tray, plates and routine, the tray marked as in the list of all."""
    return f"[{lane.lane}] TRAY {lane.lane}  {plates(lane)}   {printable(lane.routine)}"


def plates(lane: LaneView) -> str:
    """Return the plates that lie in a tray together, how many first where there are several."""
    if len(lane.plates) < 2:
        return printable(lane.plate)
    return f"{len(lane.plates)} PLATES: {', '.join(map(printable, lane.plates))}"


def light_words(lane: LaneView) -> str:
    """Return the most light that may fall on this run now, and how much of its safe time is used."""
    if lane.state == "ended":
        return ""
    if is_untested(lane):
        return f"{LIGHT[lane.light_allowed]}, UNTESTED"
    used = lane.light.used if lane.light is not None else None
    share = f", {100 * used:.0f} % used" if used is not None and lane.light_allowed == "safelight" else ""
    return f"{LIGHT[lane.light_allowed]}{share}"


def is_untested(lane: LaneView) -> bool:
    """Return whether an open plate lies under a lit safelight that no test of its emulsion has found safe."""
    return lane.light is not None and lane.light.lit and lane.light.safe_s is None


def untested_elsewhere(lane: LaneView, view: BenchView) -> str:
    """Return which other runs lie under a safelight that is not tested for them; nothing where none does."""
    others = [str(other.lane) for other in view.lanes if other is not lane and is_untested(other)]
    if not others:
        return ""
    return f"run{'s' if len(others) > 1 else ''} {', '.join(others)} UNTESTED"


def step_here(lane: LaneView) -> StepView | None:
    """Return the step that goes on or comes next."""
    return next((step for step in lane.steps if step.place == "here"), None)


def step_after(lane: LaneView) -> StepView | None:
    """Return the first step that comes after it."""
    return next((step for step in lane.steps if step.place == "to come"), None)


def is_developing(lane: LaneView) -> bool:
    """Return whether the plate lies in a developer now."""
    return lane.state in {"running", "due"} and lane.equivalent_s is not None


def counts_up(lane: LaneView) -> bool:
    """Return whether the large digits tell the time so far: nobody knows yet when the step will be over."""
    if lane.state != "running" or lane.started_s is None:
        return False
    return lane.due_s is None or (is_developing(lane) and lane.due_by == "ceiling")


def what_goes_on(lane: LaneView) -> str:
    """Return the line above the large digits."""
    step = step_here(lane)
    name = printable(step.name).upper() if step else ""
    if lane.state == "running":
        return f"{name}: {_counted(lane)}"
    over = "CEILING" if is_developing(lane) else "TIME"
    return {
        "ready": f"READY for {name}: will take about",
        "due": f"{name}: OVER ITS {over} by",
        "interrupted": "INTERRUPTED: nothing counts now",
        "ended": "This run is over",
    }[lane.state]


def call(lane: LaneView, now_s: float) -> str:
    """Return the line below the large digits: what the person is asked for, or what else tells the end."""
    step, after = step_here(lane), step_after(lane)
    match lane.state:
        case "ready":
            plate = "Plates" if len(lane.plates) > 1 else "Plate"
            return f"{plate} into {bath_of(step)} and Enter"
        case "due" if is_developing(lane):
            return "PULL THE PLATE: P"
        case "due":
            return f"On to {printable(after.name)}: Enter" if after else "Take it out: Enter"
        case "interrupted":
            return "Enter: take it up   W: say how long it lay"
        case "running":
            pulled = _just_pulled(lane, now_s)
            return pulled or (clocks(lane, now_s) if is_developing(lane) else _in_a_bath(lane, now_s))
        case "ended":
            return "Next (0): the Lamp page prints, the Logbook judges"


def back_left_s(lane: LaneView, now_s: float) -> float | None:
    """Return for how long a pull can be taken back yet [s]; None where none can."""
    left_s = lane.back_until_s - now_s if lane.back_until_s is not None else 0.0
    return left_s if left_s > 0.0 else None


def _just_pulled(lane: LaneView, now_s: float) -> str:
    back_s = back_left_s(lane, now_s)
    return "" if back_s is None else f"Pulled by mistake? Z: put it back ({left_words(back_s)})"


def going_on_words(lane: LaneView, clear_key: str = "") -> str:
    """Return what to press instead of Enter while a step goes on, or once the run is over."""
    step = step_here(lane)
    if lane.state == "ended" or step is None:
        return "This run is over: O opens the next one"
    name = printable(step.name)
    if is_developing(lane):
        return f"{name} goes on: P pulls the plate"
    look = f"{clear_key} marks the plate clear, " if lane.look_due_s is not None and clear_key else ""
    return f"{name} goes on: {look}C cuts it short"


def bath_of(step: StepView | None) -> str:
    """Return the bath of a step: the one named for it, or what the routine calls it."""
    return printable(step.bath_name or step.bath) if step else "the bath"


def is_water_due(lane: LaneView, now_s: float) -> bool:
    """Return whether the water of a wash is to be changed, or will be in a moment: a person may do so."""
    due_s = lane.wash.change_due_s if lane.wash is not None else None
    return lane.state == "running" and due_s is not None and due_s - now_s <= 30.0


def large_time(lane: LaneView, now_s: float) -> str:
    """Return the large digits: left, so far, over, or what it will take; nothing when nothing counts."""
    step = step_here(lane)
    if counts_up(lane):
        return gone_words(now_s - (lane.started_s or now_s))
    if lane.state == "running" and lane.due_s is not None:
        return left_words(lane.due_s - now_s)
    if lane.state == "due" and lane.due_s is not None:
        return gone_words(now_s - lane.due_s)
    if lane.state == "ready" and step is not None:
        return time_words(round(step.planned_s))
    return ""


def next_tick_s(lane: LaneView, now_s: float) -> float:
    """Return in how many seconds of the bench the large digits of a tray change."""
    if counts_up(lane):
        return next_change_s(now_s - (lane.started_s or now_s), falling=False)
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
    if lane.target_s is None or "time" not in (lane.ends or ("time",)):
        return carried_s
    return min(lane.target_s, carried_s)


def _counted(lane: LaneView) -> str:
    """Return what the large digits of a step going on count, and until when."""
    if not counts_up(lane):
        sure = f", ±{about(lane.doubt_s)}" if lane.doubt_s is not None and lane.doubt_s >= 0.5 else ""
        return f"time left{sure}"
    if not is_developing(lane):
        return "time so far, until it is clear" if lane.look_due_s is not None else "time so far"
    return "time so far, PULL WHEN IT IS RIGHT" if is_by_eye(lane) else "time so far"


def _in_a_bath(lane: LaneView, now_s: float) -> str:
    if lane.wash is not None:
        return _water(lane, now_s)
    if lane.look_due_s is not None:
        early_s = lane.look_due_s - now_s
        return (
            f"Is it clear? Mark it   (asked in {left_words(early_s)})"
            if early_s > 0
            else "IS IT CLEAR? MARK IT"
        )
    where = f"In {bath_of(step_here(lane))}"
    return f"Clear after {gone_words(lane.cleared_s)}. {where}" if lane.cleared_s is not None else where


def _water(lane: LaneView, now_s: float) -> str:
    wash = lane.wash
    if wash is None or wash.change_due_s is None:
        return f"Water {wash.water} of {wash.waters}, the last" if wash is not None else ""
    left_s = wash.change_due_s - now_s
    if left_s <= 0:
        return f"CHANGE THE WATER ({wash.water} of {wash.waters}): Enter"
    return f"Water {wash.water} of {wash.waters}: change it in {left_words(left_s)}"


def _cue(lane: LaneView, now_s: float) -> str:
    cue = lane.next_cue
    if cue is None:
        return ""
    if lane.state == "due":  # it has been said that it is over, and will be again
        return f"Called again in {left_words(cue.due_s - now_s)}"
    every = (
        f" (every {time_words(round(lane.rock_every_s))})" if lane.rock_every_s and "ock" in cue.words else ""
    )
    return f"In {left_words(cue.due_s - now_s)}: {printable(cue.words)}{every}"


def _seen(lane: LaneView) -> str:
    """Return the marks made, newest first, as the newest matters most where the line ends."""
    seen = [f"{printable(mark.what)} {gone_words(mark.elapsed_s)}" for mark in reversed(lane.marks)]
    return f"Seen: {', '.join(seen)}" if seen else ""
