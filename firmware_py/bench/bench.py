"""The bench: takes what people, probes and time bring, and says what is to be done. It never waits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field

from firmware_py.bench.effects import Effect
from firmware_py.bench.foot import Foot, FootRule
from firmware_py.bench.interlocks.held_foot import HeldFoot
from firmware_py.bench.interlocks.open_plate import OpenPlate, open_plates
from firmware_py.bench.interlocks.safe_start import SafeStart
from firmware_py.bench.judging import Judging
from firmware_py.bench.lamp.lamp_rule import PRINTING_LAMP, LampRule
from firmware_py.bench.lamp.lamp_side import LampSide
from firmware_py.bench.log import log_trouble
from firmware_py.bench.matters import Kind
from firmware_py.bench.notices import Holds, Notices
from firmware_py.bench.plates.plate_book import PlateBook
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.precedents import precedent
from firmware_py.bench.trays.runs import Runs
from firmware_py.bench.trays.tray_foot import TrayFoot
from firmware_py.bench.upkeep.upkeep import Upkeep, UpkeepPlan
from firmware_py.bench.vocabulary import Vocabulary, shipped_vocabulary
from firmware_py.bench.warmth.heat_facts import HEATER
from firmware_py.bench.warmth.thermometers import Thermometers
from firmware_py.bench.wired import Wired
from firmware_py.craft.refusal import Locked, Refused
from firmware_py.craft.routine import Routine
from firmware_py.devices.clock import Clock
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.devices.light_sensor import Light, NoLight
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.acts import run as acts
from firmware_py.facts.acts.bath import UpkeepAct
from firmware_py.facts.acts.book import JudgePlate
from firmware_py.facts.acts.plate import PlateAct
from firmware_py.facts.acts.print import PrintAct
from firmware_py.facts.events import run as ev
from firmware_py.journal.life_record import PlateRecord
from firmware_py.switchboard.reports import ExposureBegan, ExposureEnded

SAFELIGHT = "safelight"
PERSON = "a person asked"


@dataclass(frozen=True, slots=True)
class BenchPlan:
    """What stands on this bench: routines, where each probe lies, relays, how the foot is read, the words."""

    routines: Mapping[str, Routine]
    trays: Mapping[str, str] = field(default_factory=dict)
    relays: tuple[str, ...] = (SAFELIGHT, PRINTING_LAMP)
    foot: FootRule = field(default_factory=FootRule)
    lamp: LampRule = field(default_factory=LampRule)
    upkeep: UpkeepPlan = field(default_factory=UpkeepPlan)
    vocabulary: Vocabulary = field(default_factory=shipped_vocabulary)
    rehearsal: bool = False
    program: str = "0"
    wired: tuple[Wired, ...] = ()


class Bench:
    """The state of the whole bench. What it is told may leave effects, to be taken and done in order."""

    def __init__(self, plan: BenchPlan, clock: Clock) -> None:
        self.plan = plan
        self.clock = clock
        self.notices = Notices()
        self.scribe = Scribe(clock)
        self.thermometers = Thermometers(plan.trays, self.scribe, self.notices)
        self.runs = Runs(plan.routines, self.thermometers, self.scribe, self.notices)
        self.safe_start = SafeStart()
        self.relays_ready = True
        self.held_foot = HeldFoot()
        self.foot = Foot(plan.foot)
        self._tray_foot = TrayFoot(self.runs, self.scribe)
        self.lamp_side = LampSide(
            plan.lamp, foot=self.foot, runs=self.runs, scribe=self.scribe, notices=self.notices, room=self
        )
        self.upkeep = Upkeep(
            plan.upkeep,
            rehearsal=plan.rehearsal,
            runs=self.runs,
            thermometers=self.thermometers,
            scribe=self.scribe,
            notices=self.notices,
            room=self,
        )
        self.judging = Judging(self.runs, self.scribe)
        self.plates = PlateBook(
            self.scribe,
            self.notices,
            rehearsal=plan.rehearsal,
            rule=plan.upkeep.plates,
            safelight_is_on=self.safelight_is_on,
        )
        self.runs.hands.before_begin = self.upkeep.before_first_step
        self.relays: dict[str, tuple[bool, str]] = dict.fromkeys(plan.relays, (False, "safe since start"))
        self.scribe.write_session(ev.BenchStarted(program=plan.program, rehearsal=plan.rehearsal))

    @property
    def revision(self) -> int:
        """Get a number that rises whenever what is seen may have changed."""
        return self.scribe.revision

    def take_effects(self) -> list[Effect]:
        """Return what is to be done, and forget it."""
        return self.scribe.take_effects()

    # --- what a person does ---

    def do(self, act: acts.AnyAct) -> None:
        """Do what a person asks, or raise Refused and change nothing."""
        self.scribe.revision += 1
        self.safe_start.person_acted()
        if not isinstance(act, acts.MoveFoot) and not self.notices.has_cause("foot refused"):
            self.notices.clear("foot refused")
        if isinstance(act, PrintAct):
            self.lamp_side.do(act, rehearsal=self.plan.rehearsal)
        elif isinstance(act, UpkeepAct):
            self.upkeep.do(act)
        elif isinstance(act, PlateAct):
            self.plates.do(act)
        else:
            self._do_at_the_trays(act)
        self._settle()

    def _settle(self) -> None:
        """Write down whatever follows from what has just happened."""
        self.upkeep.settle()
        self.plates.settle(self.runs.lanes.values())
        self.scribe.revision += self.notices.settle()

    def _do_at_the_trays(self, act: acts.AnyAct) -> None:
        runs = self.runs
        match act:
            case acts.OpenRun():
                self.open_run(act)
            case acts.CorrectPlate():
                lane = runs.lane(act.lane)
                self.upkeep.corrected(lane, self.plates.correct(act, lane, runs))
            case JudgePlate():
                self.judging.judge(act)
            case acts.Focus():
                runs.focus = runs.lane(act.lane).number
            case acts.SayTemperature():
                runs.told(runs.lane(act.lane), act.bath_degC)
            case acts.TrustProbe():
                self.thermometers.trust(act.probe, act.trusted, self.clock.now_s())
            case acts.Abandon():
                runs.abandon(runs.lane(act.lane))
            case acts.TakeUp():
                runs.taking_up.take_up(runs.lane(act.lane), act.away_s, act.doubt_s)
            case acts.SwitchSafelight() | acts.PlaySound() | acts.MoveFoot():
                self._do_with_devices(act)
            case _:
                self._do_by_hand(act)

    def _do_with_devices(self, act: acts.SwitchSafelight | acts.PlaySound | acts.MoveFoot) -> None:
        match act:
            case acts.SwitchSafelight():
                self._switch(SAFELIGHT, act.on)
            case acts.PlaySound():
                self.scribe.play(act.tune)
            case acts.MoveFoot():
                self.step_on(FootEdge(act.down, self.clock.now_s()))

    def _do_by_hand(self, act: acts.AnyAct) -> None:
        runs, hands = self.runs, self.runs.hands
        match act:
            case acts.Proceed():
                hands.proceed(runs.lane(act.lane))
            case acts.Mark():
                hands.mark(runs.lane(act.lane), act.what)
            case acts.TakeBackMark():
                hands.take_back_mark(runs.lane(act.lane))
            case acts.ChangeWater():
                hands.change_water(runs.lane(act.lane))
            case acts.Pull():
                hands.pull(runs.lane(act.lane))
            case acts.TakeBackPull():
                hands.taking_back.take_back(runs.lane(act.lane))
            case acts.CutShort():
                hands.cut_short(runs.lane(act.lane))
            case acts.Note():
                hands.note(runs.lane(act.lane), act.text)

    def open_run(self, act: acts.OpenRun) -> Lane:
        """Lay a plate, or the paper of a print, ready for a routine; return its lane."""
        routine = self.plan.routines.get(act.routine)
        known: list[PlateRecord] = []
        if routine is not None and routine.sheet == "plate":
            act, known = self.plates.named_in(act, self.runs.lanes.values())
        if routine is not None:
            self.upkeep.check_opening(act, routine)
        lane = self.runs.open(act, rehearsal=self.plan.rehearsal)
        self.upkeep.opened(lane, act)
        self.plates.lay_out(known, lane)
        if lane.record.routine.sheet == "plate":
            self.lamp_side.plate_laid_open(act.plate)
        return lane

    def step_on(self, edge: FootEdge) -> None:
        """Take in an edge of the foot switch."""
        self._step_on(edge)
        self._settle()

    def _step_on(self, edge: FootEdge) -> None:
        self.safe_start.person_acted()
        if edge.down:
            self.notices.clear("foot refused")
        if self.lamp_side.takes(edge):
            self._tray_foot.has_the_press = False
            self.scribe.revision += 1
            with self._saying():
                self.lamp_side.foot.edge(edge)
            return
        self._tray_foot.has_the_press = True
        if edge.down:
            self._tray_foot.comes_down()
        press = self.foot.edge(edge, long_means=self._tray_foot.long_means)
        with self._saying():
            self._tray_foot.pressed(press)

    # --- what devices say ---

    def light_is(self, word: Light | NoLight) -> None:
        """Take in what the light sensor shows."""
        self.lamp_side.printing.dose.heard(word)

    def heard(self, probe: str, word: Reading | NoReading) -> None:
        """Take in what a probe said."""
        self.scribe.revision += 1
        reading = self.thermometers.heard(probe, self.upkeep.probes.corrected(probe, word))
        self.upkeep.heard(self.clock.now_s())
        if reading is not None:
            self.runs.note_temperature(probe, reading)

    def relay_is(self, relay: str, on: bool, why: str) -> None:
        """Take in what the switchboard says a relay is."""
        self.relays[relay] = (on, why)
        self.scribe.revision += 1
        if relay == HEATER and self.upkeep.heater is not None:
            self.upkeep.heater.relay_is(on, self.clock.now_s())
        self.upkeep.settle()

    def reported(self, report: ExposureBegan | ExposureEnded) -> None:
        """Take in what the switchboard says of an exposure."""
        if isinstance(report, ExposureBegan):
            self.relay_is(report.relay, on=True, why="exposure")
            self.lamp_side.began(report)
        else:
            if report.why in {"made safe", "switchboard lost"}:
                self.safe_start.made_safe()
            self.relay_is(report.relay, on=False, why=f"exposure over: {report.why}")
            self.lamp_side.ended(report)

    def exposure_refused(self, exposure: str, why: str) -> None:
        """Take in that an exposure that was announced does not take place."""
        self.scribe.revision += 1
        self.lamp_side.printing.refused(exposure, why)

    def book_says(self, run_id: str, pulled_at_s: Sequence[float]) -> None:
        """Take in where earlier plates of a run's box and developer were pulled (equivalent time [s])."""
        lane = self.runs.lane_of_run(run_id)
        if lane is not None:
            lane.precedent = precedent(pulled_at_s)
            self.scribe.revision += 1

    def relays_made_safe(self) -> None:
        """Take in that the switchboard is lost and all is off: nothing comes back before a person acts."""
        self.safe_start.made_safe()
        self.upkeep.relays_made_safe()
        self.relays_ready = False
        for relay in self.relays:
            self.relay_is(relay, on=False, why="made safe")

    def relays_are_ready(self) -> None:
        """Take in that there is a switchboard."""
        self.relays_ready = True
        self.trouble_over("switchboard")

    # --- the room, as the lamp sees it ---

    def open_plates(self) -> list[OpenPlate]:
        """Return the plates that light would spoil."""
        return open_plates(self.runs.lanes.values())

    def free_lines(self) -> int:
        """Return for how many more sheets a run is free."""
        return self.runs.free_lines()

    def safelight_is_on(self) -> bool | None:
        """Return whether the safelight is on; None on a bench without one."""
        return self.relays[SAFELIGHT][0] if SAFELIGHT in self.relays else None

    def switch_safelight(self, on: bool, why: str) -> None:
        """Switch the safelight, as far as interlock 2 allows."""
        if on and self.upkeep.light.objection(self.runs.lanes.values()) is not None:
            return
        self._switch(SAFELIGHT, on, why)

    def put_safelight_out(self, why: str) -> None:
        """Switch the safelight off."""
        self._switch(SAFELIGHT, on=False, why=why)

    def trouble(self, kind: Kind, words: str, *, about: str = "") -> None:
        """Take in that something of the bench itself went wrong."""
        self.notices.say(kind, words, self.clock.now_s(), about=about)
        self.scribe.write_session(ev.FaultSeen(fault=f"{kind} {about}".strip(), detail=words))
        log_trouble(kind, words)
        self.scribe.play("trouble")

    def trouble_over(self, kind: Kind) -> None:
        """Take in that a trouble is over."""
        self.scribe.revision += 1
        self.notices.clear(kind)

    # --- what time brings ---

    def next_due_s(self) -> float | None:
        """Return the next moment [boot s] at which `advance` has something to do."""
        now_s = self.clock.now_s()
        moments = [self.runs.next_due_s(now_s)]
        moments.append(self.foot.next_due_s(holds=self.lamp_side.foot.holds_the_lamp))
        moments += [self.lamp_side.printing.next_due_s(), self.upkeep.next_due_s()]
        return min((m for m in moments if m is not None), default=None)

    def advance(self) -> None:
        """Do what has fallen due by now."""
        now_s = self.clock.now_s()
        self._foot_advance(now_s)
        self.lamp_side.printing.advance(now_s)
        self.thermometers.advance(now_s)
        self.runs.advance(now_s)
        self.upkeep.advance(now_s)
        self.plates.settle(self.runs.lanes.values())
        self.scribe.revision += self.notices.settle()

    def stop(self, why: str) -> None:
        """Say goodbye in the book."""
        self.scribe.write_session(ev.BenchStopped(why=why))

    # --- foot ---

    def foot_found(self, *, is_down: bool) -> None:
        """Take in how the foot switch was found at the start."""
        self.held_foot.begins(is_down=is_down)

    def foot_is(self, *, is_down: bool, is_there: bool = True) -> None:
        """Take in how the foot switch is, between its edges."""
        self.held_foot.looks(is_down=is_down, is_there=is_there)

    def _foot_advance(self, now_s: float) -> None:
        holds, at_lift = self.lamp_side.foot.holds_the_lamp, self._tray_foot.has_the_press
        press = self.foot.advance(now_s, holds=holds, at_lift=at_lift)
        with self._saying():
            if not self.lamp_side.takes_press(press, now_s):
                self._tray_foot.pressed(press)
        words = self.held_foot.words(is_stuck=self.foot.stuck)
        if not words:
            self.notices.clear("foot switch held")
            return
        kind: Kind = "foot switch held" if self.held_foot.is_there else "foot switch unplugged"
        if not self.notices.stands(kind, words):
            self.trouble(kind, words)

    @contextmanager
    def _saying(self) -> Iterator[None]:
        """Say what is refused to a foot: it has no other way to hear of it."""
        try:
            yield
        except Refused as refusal:
            holds = self._locks().get(refusal.where) if isinstance(refusal, Locked) else None
            self.notices.say("foot refused", refusal.line, self.clock.now_s(), holds=holds)
            self.scribe.play("trouble")

    def _locks(self) -> dict[str, Holds]:
        """Return whether the cause of an interlock's refusal still holds, by the interlock."""
        return {
            "interlock 1": lambda: bool(self.open_plates()),
            "interlock 2": lambda: self.upkeep.light.objection(self.runs.lanes.values()) is not None,
            "interlock 6": lambda: not self.safe_start.may_energise,
        }

    # --- relays ---

    def _switch(self, relay: str, on: bool, why: str = PERSON) -> None:
        if relay not in self.relays:
            raise Refused(f"this bench has no {relay}", where="switch", allowed=", ".join(self.relays))
        if relay == SAFELIGHT and on:
            self.upkeep.light.require_allowed(self.runs.lanes.values())
        if why == PERSON:
            self.lamp_side.printing.safelight.person_decided()
        self.scribe.write_session(ev.RelaySwitched(relay=relay, on=on, why=why))
        self.scribe.switch(relay, on)
