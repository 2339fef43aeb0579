"""Takes up the runs that an earlier controller, or an earlier start of the machine, left open."""

from __future__ import annotations

from typing import Literal

from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.resume import PERSON_DOUBT_S, Away, away_by_wall_clock, last_readings
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import run as ev

How = Literal["boot clock", "wall clock", "person"]


class TakingUp:
    """Resumes runs: at once on the same machine start, by a person's word after another."""

    def __init__(self, scribe: Scribe) -> None:
        self._scribe = scribe

    def found(self, lane: Lane) -> None:
        """Take in a run that the journal held open.

        On the same start of the machine its clock went on, so that it is taken up exactly. After another
        start it waits for a person; but a plate that lay in no bath yet lost nothing.
        """
        record, clock = lane.record, self._scribe.clock
        if record.boot_id == clock.boot_id:
            self._take_up(lane, clock.now_s() - record.boot_s, 0.0, "boot clock")
            return
        lane.away = away_by_wall_clock(record, clock)
        if not record.steps:
            self._take_up(lane, self._most_likely_s(lane.away), 0.0, "wall clock")

    def take_up(self, lane: Lane, away_s: float | None, doubt_s: float | None) -> None:
        """Take an interrupted run up, after the time away that is likely or that a person says."""
        away = lane.away
        if away is None:
            raise Refused(f"the run in tray {lane.number} was not interrupted", where="take up")
        if away_s is not None:
            self._take_up(lane, away_s, PERSON_DOUBT_S if doubt_s is None else doubt_s, "person")
            return
        likely_s = away.likely_s(self._scribe.clock.now_s())
        if likely_s is None:
            raise Refused(away.why_not, where="take up", allowed="say how long the plate lay")
        self._take_up(lane, likely_s, away.doubt_s if doubt_s is None else doubt_s, "wall clock")

    def give_up(self, lane: Lane) -> None:
        """Take an interrupted run up only to be given up, after the time that is likely."""
        if lane.away is not None:
            self._take_up(lane, self._most_likely_s(lane.away), lane.away.doubt_s, "wall clock")

    def _most_likely_s(self, away: Away) -> float:
        now_s = self._scribe.clock.now_s()
        likely_s = away.likely_s(now_s)
        return away.least_s(now_s) if likely_s is None else likely_s

    def _take_up(self, lane: Lane, away_s: float, doubt_s: float, how: How) -> None:
        self._scribe.write(lane.record, ev.RunResumed(away_s=away_s, doubt_s=doubt_s, how=how))
        lane.away = None
        lane.thermometer.remember(last_readings(lane.record))
        lane.cues.begin_step(self._scribe.clock.now_s())
