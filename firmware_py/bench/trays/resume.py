"""Taking up a run that an earlier controller left open: how long it was away, and where it lies."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from firmware_py.bench.warmth.thermometry import RECENT_S
from firmware_py.devices.clock import Clock
from firmware_py.devices.probe import Reading, ReadingSource
from firmware_py.journal.run_record import RunRecord

# A board without a battery clock may be minutes out after a start. Common practice, no source.
WALL_CLOCK_DOUBT_S = 30.0
PERSON_DOUBT_S = 5.0
# A plate was not left for longer than this: rather, the wall clock is wrong. Common practice, no source.
LONGEST_AWAY_S = 24 * 3600.0


@dataclass(frozen=True, slots=True)
class Away:
    """The time away since the run's last entry, of ``last_utc`` by the wall clock.

    It grows until the run is taken up: what the wall clock told when the run was found, at ``found_s``
    [boot s], is ``told_s`` [s], None where ``why_not`` says that it can not be believed.
    """

    last_utc: str
    found_s: float
    told_s: float | None
    doubt_s: float = WALL_CLOCK_DOUBT_S
    why_not: str = ""

    def likely_s(self, now_s: float) -> float | None:
        """Return the likely time away [s] at ``now_s`` [boot s], None where nobody can tell."""
        return None if self.told_s is None else self.told_s + now_s - self.found_s

    def least_s(self, now_s: float) -> float:
        """Return what the time away [s] is at the least: for so long this machine has been up."""
        return now_s


def away_by_wall_clock(record: RunRecord, clock: Clock) -> Away:
    """Return how long a run of an earlier machine start was away, as far as the wall clock tells."""
    away_s = (clock.utc() - datetime.fromisoformat(record.utc)).total_seconds()
    up_s = clock.now_s()
    why_not = ""
    if away_s < 0:
        why_not = "the wall clock went back"
    elif away_s < up_s:
        why_not = f"the wall clock tells {away_s:.0f} s, but this machine has been up for {up_s:.0f} s"
    elif away_s > LONGEST_AWAY_S:
        why_not = f"the wall clock tells {away_s / 3600:.0f} h"
    return Away(record.utc, up_s, None if why_not else away_s, why_not=why_not)


def tray_number(record: RunRecord, taken: Mapping[int, object]) -> int:
    """Return the lane a run lay in, or the next free one where that is taken."""
    words = record.opened.tray.split()
    wanted = int(words[-1]) if words and words[-1].isdigit() else 1
    while wanted in taken:
        wanted += 1
    return wanted


def last_readings(record: RunRecord) -> Iterable[Reading]:
    """Give the last temperatures of the step going on as readings on the present boot clock, oldest first."""
    here = record.here
    for sample in record.samples:
        if here is None or sample.step != here.step or sample.source == "assumed":
            continue
        if record.run_s - sample.run_s <= RECENT_S:
            source: ReadingSource = "hand" if sample.source == "hand" else "probe"
            yield Reading(sample.bath_degC, sample.tolerance_K, record.boot_s_at(sample.run_s), source)
