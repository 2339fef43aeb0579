"""Taking up a print that an earlier controller left open: what became of an exposure that went on then."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from firmware_py.bench.lamp.next_exposure import part_words
from firmware_py.craft.saying import say_time
from firmware_py.devices.clock import Clock
from firmware_py.facts.events import print as pe
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_sheet import Exposure
from firmware_py.switchboard.reports import ExposureEnded

# An estimate is never passed off as a measurement, however short the gap.
LEAST_DOUBT_S = 0.001


@dataclass(frozen=True, slots=True)
class Traces:
    """What is left of the time before: the book's last moment, and what the switchboard left, by its ids."""

    boot_id: str = ""
    alive_s: float = -math.inf
    last_words: Mapping[str, ExposureEnded] = field(default_factory=dict)


def ending_events(
    record: PrintRecord, asked: str, traces: Traces, clock: Clock
) -> Iterator[pe.AnyPrintEvent]:
    """Give the events that end the exposure an open record speaks of, measured or estimated; none if dark.

    ``asked`` is what the exposure was called at the switchboard.
    """
    lamp = record.lamp_lit
    if lamp is None:
        return
    ended = _end(record, lamp, traces.last_words.get(asked), traces, clock)
    if record.state == "uncovered" and record.exposure is not None:
        yield pe.FrameCovered(exposure=record.exposure.exposure, at_s=ended.off_s, why="lamp out")
    yield ended


def _end(
    record: PrintRecord, lamp: Exposure, words: ExposureEnded | None, traces: Traces, clock: Clock
) -> pe.ExposureEnded:
    if words is not None:
        return pe.ExposureEnded(
            exposure=lamp.exposure,
            on_s=words.on_s,
            off_s=words.off_s,
            why="time" if words.why == "time" else "bench stopped",
            doubt_s=words.doubt_s,
        )
    on_s = record.boot_s if lamp.on_s is None else lamp.on_s
    earliest_s, latest_s = _bounds(record, lamp, on_s, traces, clock)
    return pe.ExposureEnded(
        exposure=lamp.exposure,
        on_s=on_s,
        off_s=(earliest_s + latest_s) / 2,
        why="bench stopped",
        doubt_s=max((latest_s - earliest_s) / 2, LEAST_DOUBT_S),
    )


def _bounds(
    record: PrintRecord, lamp: Exposure, on_s: float, traces: Traces, clock: Clock
) -> tuple[float, float]:
    """Return between which moments the lamp went out: after the book's last entry, before its time was up."""
    limit_s = lamp.planned_s if lamp.planned_s is not None else lamp.ceiling_s or 0.0
    latest_s = on_s + limit_s
    if record.boot_id == clock.boot_id:
        latest_s = max(on_s, min(latest_s, clock.now_s()))
    has_begun = lamp.on_s is not None
    alive_s = traces.alive_s if traces.boot_id == record.boot_id and has_begun else on_s
    return min(max(on_s, alive_s), latest_s), latest_s


def interrupted_words(record: PrintRecord, here: Exposure) -> str:
    """Return what a person should know of the exposure that was interrupted."""
    what = part_words(record, here.part, here.number)
    lasted = say_time(here.lasted_s)
    how = f"± {say_time(here.doubt_s)}, estimated" if here.doubt_s else "measured"
    if here.why == "time":
        return f"The bench was stopped after the exposure: {what} is whole ({lasted}, {how})"
    return f"The bench was stopped in an exposure: {what} got {lasted} of light ({how})"
