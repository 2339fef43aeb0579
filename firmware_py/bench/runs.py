"""The runs on the bench: opened, moved from step to step, marked, pulled, and brought to their end."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from firmware_py.bench.lane import Lane, lane_free
from firmware_py.bench.notices import Notices
from firmware_py.bench.resume import (
    PERSON_DOUBT_S,
    WALL_CLOCK_DOUBT_S,
    away_by_wall_clock,
    last_readings,
    tray_number,
)
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.thermometers import Thermometers
from firmware_py.bench.thermometry import Thermometer
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Routine
from firmware_py.devices.probe import Reading
from firmware_py.journal import events as ev
from firmware_py.journal.run_record import RunRecord

MOST_LANES = 6


class Runs:
    """Every run that lies on the bench, by lane, and the one that keys and foot act on."""

    def __init__(
        self, routines: Mapping[str, Routine], thermometers: Thermometers, scribe: Scribe, notices: Notices
    ) -> None:
        self.lanes: dict[int, Lane] = {}
        self.focus: int | None = None
        self.opened: list[str] = []
        self._routines = routines
        self._thermometers = thermometers
        self._scribe = scribe
        self._notices = notices

    def lane(self, number: int | None) -> Lane:
        """Return a lane by its number, or the one in focus. Raises Refused where no run lies."""
        wanted = self.focus if number is None else number
        if wanted is None or wanted not in self.lanes:
            allowed = ", ".join(f"tray {n}" for n in sorted(self.lanes)) or "open a run first"
            where = "bench" if wanted is None else f"tray {wanted}"
            raise Refused("no run lies there", where=where, allowed=allowed)
        return self.lanes[wanted]

    # --- what a person does ---

    def run_of(self, plate: str) -> str | None:
        """Return the id of the newest run of a plate that this bench knows of, by the plate's name."""
        wanted = plate.casefold()
        found = [lane.record for lane in self.lanes.values() if lane.record.plate.casefold() == wanted]
        return max((record.run_id for record in found), default=None)

    def first_routine_for_paper(self) -> str:
        """Return the name of the first routine for paper. Raises Refused where there is none."""
        for name, routine in self._routines.items():
            if routine.sheet == "paper":
                return name
        raise Refused("there is no routine for paper", where="open", allowed='one with sheet = "paper"')

    def require_routine_for_paper(self, name: str) -> None:
        """Refuse a routine that is made for plates."""
        routine = self._routines.get(name)
        if routine is not None and routine.sheet != "paper":
            raise Refused(f"routine {name!r} is for plates", where="open", allowed="one for paper")

    def open(self, plate: str, routine_name: str, *, rehearsal: bool) -> Lane:
        """Lay a plate, or paper, ready for a routine in the first free lane; return the lane."""
        routine = self._routines.get(routine_name)
        if routine is None:
            raise Refused(
                f"there is no routine {routine_name!r}", where="open", allowed=", ".join(self._routines)
            )
        number = lane_free(self.lanes, MOST_LANES)
        if number is None:
            raise Refused(f"cannot open a run while all {MOST_LANES} trays are in use", where="open")
        record = self._scribe.open_run(
            ev.RunOpened(plate=plate, tray=f"tray {number}", routine=routine, rehearsal=rehearsal)
        )
        self.lanes[number] = Lane(number, record, self._thermometers.of_lane(number))
        self.focus = number
        self.opened.append(record.run_id)
        return self.lanes[number]

    def proceed(self, lane: Lane) -> None:
        """Put the plate in, or move it on when its step is due."""
        record, plan = lane.record, lane.plan
        if lane.away is not None:
            raise Refused(f"cannot go on while {record.plate} waits to be taken up", where="proceed")
        if record.state == "ready":
            self._start_next(lane)
        elif record.state == "due":
            self.end_step(lane, "moved on")
        elif record.state == "ended" or plan is None:
            raise Refused(f"cannot go on while the run of {record.plate} is over", where="proceed")
        else:
            raise Refused(
                f"cannot move on while {plan.name} goes on",
                where="proceed",
                allowed="pull a plate out of the developer, or cut another step short",
            )

    def mark(self, lane: Lane, what: str) -> None:
        """Write down that something shows on the plate."""
        if lane.here is None or lane.away is not None:
            raise Refused(f"cannot mark {what!r} while no step goes on in tray {lane.number}", where="mark")
        bath_degC = lane.believed(self._now_s()).bath_degC if lane.is_developing else None
        self._scribe.write(lane.record, ev.MarkMade(what=what, bath_degC=bath_degC))
        self._scribe.play("heard")

    def note(self, lane: Lane, text: str) -> None:
        """Write a remark."""
        self._scribe.write(lane.record, ev.NoteWritten(text=text))

    def pull(self, lane: Lane) -> None:
        """End the development now."""
        if not lane.is_developing:
            raise Refused(f"cannot pull while nothing develops in tray {lane.number}", where="pull")
        self.end_step(lane, "pulled")
        self._scribe.play("heard")

    def cut_short(self, lane: Lane) -> None:
        """End a step that is not a development before its time."""
        if lane.is_developing:
            raise Refused("cannot cut a development short", where="cut short", allowed="pull the plate")
        if lane.record.state != "running" or lane.away is not None:
            raise Refused(f"cannot cut short while no step goes on in tray {lane.number}", where="cut short")
        self.end_step(lane, "cut short")

    def abandon(self, lane: Lane) -> None:
        """Give a run up; the log keeps it."""
        if lane.record.state == "ended":
            raise Refused("cannot give up a run that is over", where="abandon")
        if lane.away is not None:
            self._take_up_after(lane, lane.away.likely_s or 0.0, WALL_CLOCK_DOUBT_S, "wall clock")
        here = lane.here
        if here is not None:
            self._scribe.write(lane.record, ev.StepEnded(step=here.step, why="abandoned"))
        self._scribe.write(lane.record, ev.RunEnded(ended="abandoned"))

    def told(self, lane: Lane, bath_degC: float) -> None:
        """Take a temperature read by hand; while a probe speaks, it is the probe that counts."""
        last, now_s = lane.thermometer.last, self._now_s()
        if last is not None and last.source != "hand" and not lane.thermometer.is_stale(now_s):
            raise Refused(
                f"the probe of tray {lane.number} reads {last.bath_degC:.1f} degC",
                where="temperature",
                allowed="by hand only while the probe is silent",
            )
        self.note_temperature(lane.thermometer, lane.thermometer.told(bath_degC, now_s))

    # --- runs from before ---

    def resume(self, record: RunRecord) -> None:
        """Take up a run left open by an earlier controller: at once, or by a person after a new start."""
        number = tray_number(record, self.lanes)
        lane = Lane(number, record, self._thermometers.of_lane(number))
        self.lanes[number] = lane
        self.focus = self.focus or number
        self.opened.append(record.run_id)
        clock = self._scribe.clock
        if record.boot_id == clock.boot_id:
            self._take_up_after(lane, clock.now_s() - record.boot_s, 0.0, "boot clock")
        else:
            lane.away = away_by_wall_clock(record, clock)

    def take_up(self, lane: Lane, away_s: float | None, doubt_s: float | None) -> None:
        """Take an interrupted run up, after the time away that is likely or that a person says."""
        if lane.away is None:
            raise Refused(f"the run in tray {lane.number} was not interrupted", where="take up")
        if away_s is not None:
            self._take_up_after(lane, away_s, PERSON_DOUBT_S if doubt_s is None else doubt_s, "person")
            return
        likely_s = lane.away.likely_s
        if likely_s is None:
            raise Refused("the wall clock went back", where="take up", allowed="say how long the plate lay")
        self._take_up_after(lane, likely_s, WALL_CLOCK_DOUBT_S if doubt_s is None else doubt_s, "wall clock")

    def _take_up_after(
        self, lane: Lane, away_s: float, doubt_s: float, how: Literal["boot clock", "wall clock", "person"]
    ) -> None:
        lane.away = None
        self._scribe.write(lane.record, ev.RunResumed(away_s=away_s, doubt_s=doubt_s, how=how))
        lane.thermometer.remember(last_readings(lane.record))
        lane.begin_step(self._now_s())

    # --- what probes and time bring ---

    def note_temperature(self, thermometer: Thermometer, reading: Reading) -> None:
        """Write a believed reading into every run that develops by it."""
        for lane in self.lanes.values():
            if lane.thermometer is thermometer and lane.is_developing:
                self._write_temperature(lane, reading.bath_degC, reading.tolerance_K, reading.source)

    def advance(self, now_s: float) -> None:
        """Do what has fallen due by now in every lane."""
        for lane in self.lanes.values():
            if lane.away is None:
                self._advance(lane, now_s)

    def _advance(self, lane: Lane, now_s: float) -> None:
        if lane.wants_trend(now_s):
            belief = lane.believed(now_s)
            self._write_temperature(lane, belief.bath_degC, belief.tolerance_K, "trend")
        for cue in lane.cues_until(now_s):
            self._notices.say(f"cue {lane.number}", f"{lane.record.plate}: {cue.words}", now_s)
            self._scribe.play(cue.tune)
        here, due_s = lane.here, lane.due_s(now_s)
        if lane.record.state != "running" or here is None or due_s is None or now_s < due_s - 1e-9:
            return
        if lane.is_developing:
            self.end_step(lane, "time")
        else:
            self._scribe.write(lane.record, ev.StepFellDue(step=here.step))

    def end_step(self, lane: Lane, why: ev.StepEnd) -> None:
        """End the step going on and begin the next at once: the plate is on its way there."""
        here = lane.here
        if here is None:
            raise AssertionError("no step goes on")
        bath_degC = lane.believed(self._now_s()).bath_degC if lane.is_developing else None
        self._scribe.write(lane.record, ev.StepEnded(step=here.step, why=why, bath_degC=bath_degC))
        if lane.plan is not None:
            self._start_next(lane)
            return
        developed = lane.record.development
        pulled = developed is not None and developed.why == "pulled"
        self._scribe.write(lane.record, ev.RunEnded(ended="pulled" if pulled else "time"))

    def _start_next(self, lane: Lane) -> None:
        started = ev.StepStarted(step=lane.record.next_step)
        if lane.rate is not None:
            belief = lane.believed(self._now_s())
            started = ev.StepStarted(
                step=lane.record.next_step,
                bath_degC=belief.bath_degC,
                tolerance_K=belief.tolerance_K,
                source=belief.source,
            )
        self._scribe.write(lane.record, started)
        lane.begin_step(self._now_s())

    def _write_temperature(
        self, lane: Lane, bath_degC: float, tolerance_K: float, source: ev.TemperatureSource
    ) -> None:
        self._scribe.write(
            lane.record,
            ev.TemperatureRead(bath_degC=bath_degC, tolerance_K=tolerance_K, source=source),
        )

    def _now_s(self) -> float:
        return self._scribe.clock.now_s()
