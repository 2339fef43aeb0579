"""The bench: takes what people, probes and time bring, and says what is to be done. It never waits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from firmware_py.bench import acts
from firmware_py.bench.effects import Effect, Play, Switch, Write
from firmware_py.bench.foot import Foot, FootRule, Press
from firmware_py.bench.lane import Lane, lane_free
from firmware_py.bench.notices import Notices
from firmware_py.bench.resume import (
    PERSON_DOUBT_S,
    WALL_CLOCK_DOUBT_S,
    away_by_wall_clock,
    last_readings,
    tray_number,
)
from firmware_py.bench.thermometry import Thermometer
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Routine
from firmware_py.devices.clock import Clock
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.journal import events as ev
from firmware_py.journal.ids import uuid7
from firmware_py.journal.run_record import RunRecord

MOST_LANES = 6
SAFELIGHT = "safelight"


@dataclass(frozen=True, slots=True)
class BenchPlan:
    """What stands on this bench: routines, the tray of each probe, relays, how the foot is read."""

    routines: Mapping[str, Routine]
    trays: Mapping[str, str] = field(default_factory=dict)
    relays: tuple[str, ...] = (SAFELIGHT, "printing-lamp")
    foot: FootRule = FootRule()
    rehearsal: bool = False
    program: str = "0"


class Bench:
    """The state of the whole bench. Every method that changes it may leave effects, to be taken in order."""

    def __init__(self, plan: BenchPlan, clock: Clock) -> None:
        self.plan = plan
        self.clock = clock
        self.session = uuid7(clock.utc())
        self.lanes: dict[int, Lane] = {}
        self.focus: int | None = None
        self.foot = Foot(plan.foot)
        self.relays: dict[str, tuple[bool, str]] = dict.fromkeys(plan.relays, (False, "safe since start"))
        self.thermometers = {tray: Thermometer(tray) for tray in plan.trays.values()}
        self.probe_words: dict[str, Reading | NoReading] = {}
        self.notices = Notices()
        self.revision = 0
        self.opened: list[str] = []
        self._silent: set[str] = set()
        self._session_number = 0
        self._effects: list[Effect] = []
        self._write_session(ev.BenchStarted(program=plan.program, rehearsal=plan.rehearsal))

    def take_effects(self) -> list[Effect]:
        """Return what is to be done, and forget it."""
        taken, self._effects = self._effects, []
        return taken

    # --- what a person does ---

    def do(self, act: acts.AnyAct) -> None:  # noqa: C901, PLR0912 - one line for each act
        """Do what a person asks, or raise Refused and change nothing."""
        self.revision += 1
        match act:
            case acts.OpenRun():
                self._open(act)
            case acts.Focus():
                self.focus = self._lane(act.lane).number
            case acts.Proceed():
                self._proceed(self._lane(act.lane))
            case acts.Mark():
                self._mark(self._lane(act.lane), act.what)
            case acts.Pull():
                self._pull(self._lane(act.lane))
            case acts.CutShort():
                self._cut_short(self._lane(act.lane))
            case acts.Note():
                self._write(self._lane(act.lane), ev.NoteWritten(text=act.text))
            case acts.SayTemperature():
                self._told(self._lane(act.lane), act.bath_degC)
            case acts.Abandon():
                self._abandon(self._lane(act.lane))
            case acts.TakeUp():
                self._take_up(self._lane(act.lane), act.away_s, act.doubt_s)
            case acts.SwitchSafelight():
                self._switch(SAFELIGHT, act.on, "a person asked")
            case acts.MoveFoot():
                self.step_on(FootEdge(act.down, self.clock.now_s()))

    def step_on(self, edge: FootEdge) -> None:
        """Take in an edge of the foot switch."""
        self._pressed(self.foot.edge(edge))

    # --- what probes say ---

    def heard(self, probe: str, word: Reading | NoReading) -> None:
        """Take in what a probe said."""
        self.revision += 1
        self.probe_words[probe] = word
        thermometer = self.thermometers[self.plan.trays[probe]]
        reading = thermometer.hear(word)
        if reading is None:
            return
        if probe in self._silent:
            self._silent.discard(probe)
            self.notices.clear(f"probe {probe}")
            self._write_session(ev.ProbeSpokeAgain(probe=probe, bath_degC=reading.bath_degC))
        self._note_temperature(thermometer, reading)

    # --- what time brings ---

    def next_due_s(self) -> float | None:
        """Return the next moment [boot s] at which `advance` has something to do."""
        now_s = self.clock.now_s()
        moments = [lane.next_due_s(now_s) for lane in self.lanes.values()]
        moments.append(self.foot.next_due_s())
        return min((m for m in moments if m is not None), default=None)

    def advance(self) -> None:
        """Do what has fallen due by now."""
        now_s = self.clock.now_s()
        self._pressed(self.foot.advance(now_s))
        if self.foot.stuck:
            self.notices.say("foot", "The foot switch stays down: it counts again once it is released", now_s)
        else:
            self.notices.clear("foot")
        self._watch_silence(now_s)
        for lane in self.lanes.values():
            if lane.away is None:
                self._advance(lane, now_s)

    # --- runs from before ---

    def resume(self, record: RunRecord) -> None:
        """Take up a run left open by an earlier controller: at once on the same machine start, or by a person."""
        number = tray_number(record, self.lanes)
        lane = Lane(number, record, self._thermometer_for(number))
        self.lanes[number] = lane
        self.focus = self.focus or number
        if record.boot_id == self.clock.boot_id:
            self._take_up_after(lane, self.clock.now_s() - record.boot_s, 0.0, "boot clock")
        else:
            lane.away = away_by_wall_clock(record, self.clock)

    def _take_up_after(
        self, lane: Lane, away_s: float, doubt_s: float, how: Literal["boot clock", "wall clock", "person"]
    ) -> None:
        lane.away = None
        self._write(lane, ev.RunResumed(away_s=away_s, doubt_s=doubt_s, how=how))
        lane.thermometer.remember(last_readings(lane.record))
        lane.begin_step(self.clock.now_s())

    # --- steps ---

    def _open(self, act: acts.OpenRun) -> None:
        routine = self.plan.routines.get(act.routine)
        if routine is None:
            raise Refused(
                f"there is no routine {act.routine!r}", where="open", allowed=", ".join(self.plan.routines)
            )
        number = lane_free(self.lanes, MOST_LANES)
        if number is None:
            raise Refused(f"cannot open a run while all {MOST_LANES} trays are in use", where="open")
        tray = f"tray {number}"
        opened = ev.RunOpened(plate=act.plate, tray=tray, routine=routine, rehearsal=self.plan.rehearsal)
        entry = self._entry(uuid7(self.clock.utc()), 1, opened)
        self.lanes[number] = Lane(number, RunRecord.begin(entry), self._thermometer_for(number))
        self.focus = number
        self.opened.append(entry.subject)
        self._effects.append(Write(entry))

    def _proceed(self, lane: Lane) -> None:
        state = lane.record.state
        if lane.away is not None:
            raise Refused(f"cannot go on while {lane.record.plate} waits to be taken up", where="proceed")
        if state == "ready":
            self._start_next(lane)
            return
        if state == "due":
            self._end_step(lane, "moved on")
            return
        plan = lane.plan
        name = plan.name if plan else "the run"
        if state == "ended":
            raise Refused(f"cannot go on while the run of {lane.record.plate} is over", where="proceed")
        raise Refused(
            f"cannot move on while {name} goes on", where="proceed",
            allowed="pull a plate out of the developer, or cut another step short",
        )

    def _start_next(self, lane: Lane) -> None:
        now_s = self.clock.now_s()
        step = lane.record.next_step
        if lane.rate is None:
            self._write(lane, ev.StepStarted(step=step))
        else:
            belief = lane.believed(now_s)
            started = ev.StepStarted(
                step=step, bath_degC=belief.bath_degC, tolerance_K=belief.tolerance_K, source=belief.source
            )
            self._write(lane, started)
        lane.begin_step(now_s)

    def _end_step(self, lane: Lane, why: ev.StepEnd) -> None:
        """End the step and, after a development, begin the next at once: the plate is on its way."""
        here = lane.here
        if here is None:
            raise AssertionError("no step goes on")
        developing = lane.is_developing
        bath_degC = lane.believed(self.clock.now_s()).bath_degC if developing else None
        self._write(lane, ev.StepEnded(step=here.step, why=why, bath_degC=bath_degC))
        if lane.plan is None:
            self._end_run(lane)
        else:
            self._start_next(lane)

    def _end_run(self, lane: Lane) -> None:
        developed = lane.record.development
        pulled = developed is not None and developed.why == "pulled"
        self._write(lane, ev.RunEnded(ended="pulled" if pulled else "time"))

    def _mark(self, lane: Lane, what: str) -> None:
        if lane.here is None or lane.away is not None:
            raise Refused(f"cannot mark {what!r} while no step goes on in tray {lane.number}", where="mark")
        bath_degC = lane.believed(self.clock.now_s()).bath_degC if lane.is_developing else None
        self._write(lane, ev.MarkMade(what=what, bath_degC=bath_degC))
        self._effects.append(Play("heard"))

    def _pull(self, lane: Lane) -> None:
        if not lane.is_developing:
            raise Refused(f"cannot pull while nothing develops in tray {lane.number}", where="pull")
        self._end_step(lane, "pulled")
        self._effects.append(Play("heard"))

    def _cut_short(self, lane: Lane) -> None:
        if lane.is_developing:
            raise Refused("cannot cut a development short: pull the plate", where="cut short")
        if lane.record.state != "running" or lane.away is not None:
            raise Refused(f"cannot cut short while no step goes on in tray {lane.number}", where="cut short")
        self._end_step(lane, "cut short")

    def _abandon(self, lane: Lane) -> None:
        if lane.record.state == "ended":
            raise Refused("cannot give up a run that is over", where="abandon")
        if lane.away is not None:
            self._take_up_after(lane, lane.away.likely_s or 0.0, WALL_CLOCK_DOUBT_S, "wall clock")
        here = lane.here
        if here is not None:
            self._write(lane, ev.StepEnded(step=here.step, why="abandoned"))
        self._write(lane, ev.RunEnded(ended="abandoned"))

    def _take_up(self, lane: Lane, away_s: float | None, doubt_s: float | None) -> None:
        if lane.away is None:
            raise Refused(f"the run in tray {lane.number} was not interrupted", where="take up")
        if away_s is not None:
            self._take_up_after(lane, away_s, PERSON_DOUBT_S if doubt_s is None else doubt_s, "person")
            return
        likely_s = lane.away.likely_s
        if likely_s is None:
            raise Refused("the wall clock went back", where="take up", allowed="say how long the plate lay")
        self._take_up_after(lane, likely_s, WALL_CLOCK_DOUBT_S if doubt_s is None else doubt_s, "wall clock")

    # --- temperature ---

    def _told(self, lane: Lane, bath_degC: float) -> None:
        now_s = self.clock.now_s()
        if lane.thermometer.is_stale(now_s) or lane.thermometer.last is None:
            self._note_temperature(lane.thermometer, lane.thermometer.told(bath_degC, now_s))
            return
        last = lane.thermometer.last
        if last.source != "hand":
            raise Refused(
                f"the probe of tray {lane.number} reads {last.bath_degC:.1f} degC",
                where="temperature", allowed="by hand only while the probe is silent",
            )
        self._note_temperature(lane.thermometer, lane.thermometer.told(bath_degC, now_s))

    def _note_temperature(self, thermometer: Thermometer, reading: Reading) -> None:
        for lane in self.lanes.values():
            if lane.thermometer is thermometer and lane.is_developing:
                self._write(
                    lane,
                    ev.TemperatureRead(
                        bath_degC=reading.bath_degC, tolerance_K=reading.tolerance_K, source=reading.source
                    ),
                )

    def _watch_silence(self, now_s: float) -> None:
        for probe, tray in self.plan.trays.items():
            thermometer = self.thermometers[tray]
            if probe in self._silent or not thermometer.is_stale(now_s) or probe not in self.probe_words:
                continue
            word = self.probe_words[probe]
            why = word.why if isinstance(word, NoReading) else thermometer.trouble or "no reading came"
            self._silent.add(probe)
            self.notices.say(
                f"probe {probe}",
                f"Probe {probe} is silent: {why}. Timing goes on by the bath's trend; give the temperature by hand",
                now_s, trouble=True,
            )
            self._write_session(ev.ProbeFellSilent(probe=probe, why=why))
            self._effects.append(Play("trouble"))

    def _thermometer_for(self, lane: int) -> Thermometer:
        tray = f"tray {lane}"
        if tray not in self.thermometers:
            shared = self.thermometers.get("tray 1") if len(self.plan.trays) == 1 else None
            self.thermometers[tray] = shared or Thermometer(tray)
        return self.thermometers[tray]

    # --- time in a lane ---

    def _advance(self, lane: Lane, now_s: float) -> None:
        if lane.wants_trend(now_s):
            belief = lane.believed(now_s)
            self._write(
                lane,
                ev.TemperatureRead(
                    bath_degC=belief.bath_degC, tolerance_K=belief.tolerance_K, source="trend"
                ),
            )
        for cue in lane.cues_until(now_s):
            self.notices.say(f"cue {lane.number}", f"{lane.record.plate}: {cue.words}", now_s)
            self._effects.append(Play(cue.tune))
            self.revision += 1
        here = lane.here
        due_s = lane.due_s(now_s)
        if lane.record.state != "running" or here is None or due_s is None or now_s < due_s - 1e-9:
            return
        if lane.is_developing:
            self._end_step(lane, "time")
        else:
            self._write(lane, ev.StepFellDue(step=here.step))

    # --- foot ---

    def _pressed(self, press: Press | None) -> None:
        if press is None:
            return
        self.revision += 1
        lane = self.lanes.get(self.focus) if self.focus is not None else None
        if lane is None or lane.away is not None:
            return
        try:
            if press == "long":
                self._long_press(lane)
            else:
                self._short_press(lane)
        except Refused as refusal:
            self.notices.say("foot says", refusal.line, self.clock.now_s())

    def _short_press(self, lane: Lane) -> None:
        if not lane.is_developing:
            self._proceed(lane)
            return
        made = {m.what for m in lane.record.marks}
        names = lane.record.routine.marks
        self._mark(lane, next((name for name in names if name not in made), names[-1]))

    def _long_press(self, lane: Lane) -> None:
        if lane.is_developing:
            self._pull(lane)
        elif lane.record.state == "running":
            self._cut_short(lane)

    # --- relays ---

    def _switch(self, relay: str, on: bool, why: str) -> None:
        if relay not in self.relays:
            raise Refused(f"this bench has no {relay}", where="switch", allowed=", ".join(self.relays))
        self._write_session(ev.RelaySwitched(relay=relay, on=on, why=why))
        self._effects.append(Switch(relay, on))

    def relay_is(self, relay: str, on: bool, why: str) -> None:
        """Take in what the switchboard says a relay is."""
        self.relays[relay] = (on, why)
        self.revision += 1

    def trouble(self, fault: str, words: str) -> None:
        """Take in that something of the bench itself went wrong."""
        self.revision += 1
        self.notices.say(fault, words, self.clock.now_s(), trouble=True)
        self._write_session(ev.FaultSeen(fault=fault, detail=words))
        self._effects.append(Play("trouble"))

    def trouble_over(self, fault: str) -> None:
        """Take in that a trouble is over."""
        self.revision += 1
        self.notices.clear(fault)

    def stop(self, why: str) -> None:
        """Say goodbye in the book."""
        self._write_session(ev.BenchStopped(why=why))

    # --- writing ---

    def _lane(self, number: int | None) -> Lane:
        wanted = self.focus if number is None else number
        if wanted is None or wanted not in self.lanes:
            raise Refused(
                "no run lies there" if wanted else "no run is open",
                where=f"tray {wanted}" if wanted else "bench",
                allowed=_numbers(self.lanes),
            )
        return self.lanes[wanted]

    def _write(self, lane: Lane, event: ev.AnyEvent) -> None:
        entry = self._entry(lane.record.run_id, lane.record.number + 1, event)
        lane.record.apply(entry)
        self._effects.append(Write(entry))
        self.revision += 1

    def _write_session(self, event: ev.AnyEvent) -> None:
        self._session_number += 1
        self._effects.append(Write(self._entry(self.session, self._session_number, event)))
        self.revision += 1

    def _entry(self, subject: str, number: int, event: ev.AnyEvent) -> ev.Entry:
        return ev.Entry(
            subject=subject, number=number, boot_id=self.clock.boot_id, boot_s=self.clock.now_s(),
            utc=self.clock.utc().isoformat(timespec="milliseconds"), event=event,
        )


def _numbers(lanes: Mapping[int, Lane] | Sequence[int]) -> str:
    return ", ".join(f"tray {n}" for n in sorted(lanes)) or "open a run first"
