"""What a short and a long press of the foot mean in a tray: one table for bench, page and manual."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from firmware_py.bench.trays.due import look_due_s
from firmware_py.bench.trays.lane import Lane, next_mark
from firmware_py.journal.seen import cleared_s

Situation = Literal[
    "nothing",
    "laid ready",
    "developing, seen",
    "developing, all seen",
    "developing in the dark",
    "just pulled",
    "fixing, not clear yet",
    "washing in waters",
    "in another bath",
    "over its time",
]
Deed = Literal[
    "",
    "begin",
    "mark",
    "mark clear",
    "pull",
    "put back",
    "change water",
    "cut short",
    "move on",
    "say again",
    "turn",
]


@dataclass(frozen=True, slots=True)
class FootRow:
    """The deeds of a short and of a long press, with their words for the page."""

    short: Deed
    short_words: str
    long: Deed = ""
    long_words: str = ""


# {bath}, {step}, {next}, {mark} are those of the tray in focus. A long press counts when the foot comes up:
# a switch that is stuck never does, and so pulls no plate.
FOOT_TABLE: Mapping[Situation, FootRow] = MappingProxyType(
    {
        "nothing": FootRow("turn", "turn to the tray that needs you most"),
        "laid ready": FootRow("begin", "plate into {bath}: {step} begins"),
        "developing, seen": FootRow("mark", "mark: {mark}", "pull", "pull the plate"),
        "developing, all seen": FootRow("say again", "sound the last cue again", "pull", "pull the plate"),
        "developing in the dark": FootRow("say again", "sound the last cue again", "pull", "pull the plate"),
        "just pulled": FootRow("put back", "put it back: {before} goes on", "cut short", "cut {step} short"),
        "fixing, not clear yet": FootRow("mark clear", "mark: {mark}", "cut short", "cut {step} short"),
        "washing in waters": FootRow("change water", "the water is changed", "cut short", "cut {step} short"),
        "in another bath": FootRow("", "", "cut short", "cut {step} short"),
        "over its time": FootRow("move on", "move on: {next}"),
    }
)


def situation(lane: Lane) -> Situation:  # noqa: PLR0911 - one return for each row
    """Return which row of the table holds in a lane now."""
    record, plan = lane.record, lane.plan
    if lane.away is not None or record.state == "ended" or plan is None:
        return "nothing"
    if record.state == "ready":
        return "laid ready"
    if lane.is_developing:
        if lane.light == "dark":
            return "developing in the dark"
        return "developing, seen" if next_mark(record) is not None else "developing, all seen"
    if record.state == "due":
        return "over its time"
    if lane.back_until_s is not None:
        return "just pulled"
    if look_due_s(lane) is not None:
        return "fixing, not clear yet"
    here = lane.here
    if here is not None and len(here.changed_s) + 1 < plan.changes:
        return "washing in waters"
    return "in another bath"


def foot_words(lane: Lane) -> tuple[str, str]:
    """Return what a short and a long press of the foot do next in a lane, in words."""
    row, plan = FOOT_TABLE[situation(lane)], lane.plan
    fill = {
        "bath": plan.bath if plan else "",
        "step": plan.name if plan else "",
        "next": lane.after.name if lane.after else "the run is over",
        "mark": mark_of_the_foot(lane) or "",
        "before": lane.before.name if lane.before else "",
    }
    return row.short_words.format(**fill), row.long_words.format(**fill)


def mark_of_the_foot(lane: Lane) -> str | None:
    """Return the mark that a short press makes in a lane now."""
    if lane.here is not None and lane.plan is not None and lane.plan.clearing is not None:
        is_clear = cleared_s(lane.record, lane.here) is not None
        return None if is_clear else lane.record.routine.clearing_mark
    return next_mark(lane.record)
