"""Moves a run from step to step, each end and the next beginning at the same instant."""

from __future__ import annotations

from firmware_py.bench.matters import Kind
from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.facts.events import run as ev

# Ended so, the plate may still lie in its bath: the last cue says where it goes, and stands on.
BY_THE_CLOCK: frozenset[ev.StepEnd] = frozenset({"time", "appearance", "ceiling"})
# What is said of a tray.
OF_A_TRAY: tuple[Kind, ...] = ("cue", "bath outside window", "tray stalled", "pull taken back")


class Stepping:
    """Writes the beginnings and ends of steps."""

    def __init__(self, scribe: Scribe, notices: Notices) -> None:
        self._scribe = scribe
        self._notices = notices

    def start_next(self, lane: Lane) -> None:
        """Begin the step that comes next, with the temperature that is believed of its bath."""
        now_s = self._scribe.clock.now_s()
        step = lane.record.next_step
        known = lane.thermometer.believed(now_s)
        if known is None and lane.rate is not None:
            known = lane.believed(now_s)
        started = ev.StepStarted(step=step)
        if known is not None:
            started = ev.StepStarted(
                step=step, bath_degC=known.bath_degC, tolerance_K=known.tolerance_K, source=known.source
            )
        self._scribe.write(lane.record, started)
        lane.cues.begin_step(now_s)
        lane.is_outside = False
        lane.back_until_s = None
        self._notices.clear("bath outside window", about=lane.number)

    def end_step(self, lane: Lane, why: ev.StepEnd) -> None:
        """End the step going on and begin the next at once: the plate is on its way there."""
        here = lane.here
        if here is None:
            raise AssertionError("no step goes on")
        bath_degC = lane.believed(self._scribe.clock.now_s()).bath_degC if lane.is_developing else None
        self._scribe.write(lane.record, ev.StepEnded(step=here.step, why=why, bath_degC=bath_degC))
        if why not in BY_THE_CLOCK:
            self._notices.clear("cue", about=lane.number)
        if lane.plan is not None:
            self.start_next(lane)
            return
        self._scribe.write(lane.record, ev.RunEnded(ended=_how(lane)))
        self.forget(lane)

    def forget(self, lane: Lane) -> None:
        """Let rest what was said of a run that is over."""
        for kind in OF_A_TRAY:
            self._notices.clear(kind, about=lane.number)


def _how(lane: Lane) -> ev.RunEnd:
    """Return how a run ended: as its development did."""
    developed = lane.record.development
    match developed.why if developed is not None else None:
        case "pulled":
            return "pulled"
        case "appearance":
            return "appearance"
        case "ceiling":
            return "ceiling"
        case _:
            return "time"
