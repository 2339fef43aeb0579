"""Taking up a run that an earlier controller left open: how long it was away, and where it lies."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from firmware_py.bench.thermometry import RECENT_S
from firmware_py.devices.clock import Clock
from firmware_py.devices.probe import Reading, ReadingSource
from firmware_py.journal.run_record import RunRecord

# A board without a battery clock may be minutes out after a start. Common practice, no source.
WALL_CLOCK_DOUBT_S = 30.0
PERSON_DOUBT_S = 5.0


@dataclass(frozen=True, slots=True)
class Away:
    """The likely time away [s], or None where the wall clock went back and can not be believed."""

    likely_s: float | None


def away_by_wall_clock(record: RunRecord, clock: Clock) -> Away:
    """Return how long a run of an earlier machine start was away, as far as the wall clock tells."""
    away_s = (clock.utc() - datetime.fromisoformat(record.utc)).total_seconds()
    return Away(away_s if away_s >= 0 else None)


def tray_number(record: RunRecord, taken: Mapping[int, object]) -> int:
    """Return the lane a run lay in, or the next free one where that is taken."""
    words = record.tray.split()
    wanted = int(words[-1]) if words and words[-1].isdigit() else 1
    while wanted in taken:
        wanted += 1
    return wanted


def last_readings(record: RunRecord) -> Iterable[Reading]:
    """Give the last temperatures of a run as readings on the present boot clock, oldest first."""
    for sample in record.samples:
        if record.run_s - sample.run_s <= RECENT_S and sample.source != "assumed":
            source: ReadingSource = "hand" if sample.source == "hand" else "probe"
            yield Reading(sample.bath_degC, sample.tolerance_K, record.boot_s_at(sample.run_s), source)
