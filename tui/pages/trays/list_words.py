"""All trays in words: a line each, and above them what is most urgent of all."""

from __future__ import annotations

from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.run import LaneView
from tui.pages.shared.time_words import cut, left_words, printable
from tui.pages.trays.words import WAITING, counts_up, large_time, plates, step_here

SHORTEST_NAME = 6


def now_line(view: BenchView, now_s: float) -> tuple[str, bool]:
    """Return what is most urgent on the whole bench, and whether it wants a person now."""
    lane = next((lane for lane in view.lanes if lane.lane == view.most_urgent), None)
    if lane is not None:
        words = printable(lane.needs)
        over = f", {large_time(lane, now_s)} over" if lane.state == "due" else ""
        where = "" if lane.lane == view.focus else "   U: turn to it"
        return f"NOW  TRAY {lane.lane}: {words[:1].upper()}{words[1:]}{over}{where}", True
    return _next_cue(view, now_s), False


def one_line(lane: LaneView, now_s: float, width: int, *, in_focus: bool) -> str:
    """Return a tray in one line no longer than ``width``: its number in brackets where keys act on it."""
    number = f"[{lane.lane}]" if in_focus else f" {lane.lane} "
    time = large_time(lane, now_s) if lane.state in {"running", "due"} else ""
    # What counts up, over its time or until a person has seen enough, is told from what is left.
    more = "+" if lane.state == "due" or counts_up(lane) else ""
    start = f"{_sign(lane)}{number} {more + time:>5} {_needs_or_step(lane)}"
    if lane.state == "ended":
        return cut(start, width)
    name, room = plates(lane), width - len(start) - 2
    if len(lane.plates) > 1 and len(name) > room:
        name = f"{len(lane.plates)} PLATES"
    # Less of a name than this tells nobody which plate it is; the tray's number does.
    least = len(name) if len(lane.plates) > 1 else min(len(name), SHORTEST_NAME)
    return cut(f"{start}  {name}" if room >= least else start, width)


def is_pressing(lane: LaneView) -> bool:
    """Return whether a tray wants a person now; a plate that is only laid ready may wait."""
    return lane.state in {"due", "interrupted"} or (bool(lane.needs) and lane.state != "ready")


def _sign(lane: LaneView) -> str:
    if is_pressing(lane):
        return "!"
    return {"running": "►", "ready": "○"}.get(lane.state, " ")


def _needs_or_step(lane: LaneView) -> str:
    step = step_here(lane)
    name = printable(step.name) if step else ""
    if lane.state == "ended":
        return "over"
    if lane.state == "interrupted":
        return "take it up"
    if is_pressing(lane) and lane.needs:
        return printable(lane.needs)
    return f"ready: {name}" if lane.state in WAITING else name


def _next_cue(view: BenchView, now_s: float) -> str:
    coming = [(lane.next_cue, lane.lane) for lane in view.lanes if lane.next_cue is not None]
    if not coming:
        return "Nothing is wanted now" if view.lanes else ""
    cue, number = min(coming, key=lambda one: one[0].due_s)
    return f"Nothing is wanted now. In {left_words(cue.due_s - now_s)}, tray {number}: {printable(cue.words)}"
