"""A bench with its switchboard on a clock that only the test moves; every throw of the lamp is remembered."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.effects import Expose, Play, StopExposure, Switch, Write
from firmware_py.bench.foot import FootRule
from firmware_py.bench.lamp.lamp_rule import PRINTING_LAMP, LampRule
from firmware_py.bench.lamp.printing import Printing
from firmware_py.craft.lamp import Lag
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Routine, Step
from firmware_py.devices.clock import SimulatedClock
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.facts.acts import print as pa
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import print as pe
from firmware_py.facts.events import run as ev
from firmware_py.journal.print_outcome import PrintOutcome, print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.switchboard.commands import RelayWiring
from firmware_py.switchboard.link import InProcessSwitchboard
from firmware_py.switchboard.reports import (
    CommandRefused,
    ExposureBegan,
    ExposureEnded,
    RelaySwitched,
    Report,
    SwitchboardLost,
    SwitchboardReady,
)
from tests.bench.bench_at_hand import PLAIN

LAG_S = 0.05
RULE = LampRule(name="opal lamp", lag=Lag(LAG_S, 0.01, 0.2), distance_mm=600.0)
PAPER = Routine(
    name="contact-paper",
    title="Paper in trays",
    source="own",
    steps=(
        Step(name="Stop", kind="stop", bath="stop bath", time_s=30.0),
        Step(name="Fix", kind="fix", bath="hypo", time_s=300.0),
    ),
    sheet="paper",
)
FIXED_TWICE = Routine(
    name="fixed-twice",
    title="Two fixers and a wash",
    source="own",
    steps=(
        Step(name="Fix", kind="fix", bath="hypo", time_s=300.0),
        Step(name="Rinse", kind="rinse", bath="water", time_s=30.0),
        Step(name="Second fixer", kind="fix", bath="hypo 2", time_s=300.0),
        Step(name="Wash", kind="wash", bath="water", time_s=600.0),
    ),
)


@dataclass(frozen=True, slots=True)
class Lit:
    """The lamp was on from ``on_s`` to ``off_s`` [boot s]."""

    on_s: float
    off_s: float

    @property
    def lasted_s(self) -> float:
        return self.off_s - self.on_s


class LampAtHand:
    """Carries out what the bench wants, as the controller would; ``book_refuses`` plays a full disk."""

    def __init__(self, rule: LampRule = RULE, *, longest_on_s: float = 600.0) -> None:
        self.clock = SimulatedClock()
        self.entries: list[ev.Entry] = []
        self.tunes: list[str] = []
        self.lit: list[Lit] = []
        self.book_refuses = ""
        self.relays = (
            RelayWiring("safelight", 17),
            RelayWiring(PRINTING_LAMP, 22, ceiling_s=longest_on_s, continuous=False),
        )
        self.switchboard = InProcessSwitchboard(self.relays, self.clock)
        self.switchboard.listen(self._heard)
        plan = BenchPlan(
            {"plain": PLAIN, "contact-paper": PAPER, "fixed-twice": FIXED_TWICE},
            foot=FootRule(0.8, 10.0),
            lamp=replace(rule, longest_on_s=longest_on_s),
        )
        self.bench = Bench(plan, self.clock)
        self._turn()

    @property
    def printing(self) -> Printing:
        return self.bench.lamp_side.printing

    @property
    def record(self) -> PrintRecord:
        return self.printing.here()

    @property
    def outcome(self) -> PrintOutcome:
        return print_outcome(self.last_record())

    @property
    def is_lit(self) -> bool:
        return self.switchboard.is_on(PRINTING_LAMP)

    def last_record(self) -> PrintRecord:
        assert self.printing.record is not None
        return self.printing.record

    def events(self) -> list[ev.AnyEvent]:
        return [entry.event for entry in self.entries]

    def replayed(self) -> PrintRecord:
        """Return the print as its entries alone make it."""
        subject = self.last_record().print_id
        return PrintRecord.replay([e for e in self.entries if e.subject == subject])

    def do(self, act: acts.AnyAct) -> None:
        try:
            self.bench.do(act)
        finally:
            self.carry_out()
            self._turn()

    def open_print(self, **more: object) -> None:
        self.do(pa.OpenPrint(negative="Skarn light", paper="contact paper", **more))  # type: ignore[arg-type]
        self.do(pa.ServeFoot(to="lamp"))

    def foot(self, *, down: bool) -> None:
        self.bench.step_on(FootEdge(down, self.clock.now_s()))
        self.carry_out()
        self._turn()

    def press(self, held_s: float = 0.1) -> None:
        self.foot(down=True)
        self.pass_s(held_s)
        self.foot(down=False)

    def hold(self) -> None:
        self.press(1.0)

    def until_dark(self) -> None:
        """Let time pass until the lamp is out and a foot may light it again."""
        for _ in range(2000):
            if not self.printing.is_exposing:
                break
            self.pass_s(1.0)
        assert not self.is_lit
        self.pass_s(1.0)

    def pass_s(self, seconds: float) -> None:
        end_s = self.clock.now_s() + seconds
        turns = 0
        while self.clock.now_s() < end_s - 1e-9:
            turns += 1
            assert turns < 50 * (seconds + 1), "the bench asks to be woken again and again"
            moments = (self.bench.next_due_s(), self.switchboard.next_due_s(), end_s)
            due_s = min(m for m in moments if m is not None)
            self.clock.jump_to(min(max(due_s, self.clock.now_s()), end_s))
            self._turn()
        self._turn()

    def carry_out(self) -> None:
        effects = self.bench.take_effects()
        for effect in effects:
            if isinstance(effect, StopExposure):
                self.switchboard.stop(effect.exposure)
        for effect in effects:
            match effect:
                case Play():
                    self.tunes.append(effect.tune)
                case Switch():
                    self.switchboard.switch(effect.relay, effect.on)
                case Write():
                    self.entries.append(effect.entry)
                case _:
                    pass
        for effect in effects:
            if isinstance(effect, Expose):
                self._expose(effect)

    def _expose(self, wanted: Expose) -> None:
        if self.book_refuses:
            self.bench.exposure_refused(wanted.exposure, self.book_refuses)
            return
        assert not self.bench.open_plates(), "an exposure was asked for with a plate open"
        # The announcement must be in the book by now.
        announced = [e for e in self.events() if isinstance(e, pe.ExposureAnnounced)]
        assert wanted.exposure.rpartition("/")[2] in {e.exposure for e in announced}
        try:
            self.switchboard.expose(
                wanted.exposure, wanted.relay, for_s=wanted.for_s, ceiling_s=wanted.ceiling_s
            )
        except Refused as refusal:
            self.bench.exposure_refused(wanted.exposure, refusal.line)

    def _turn(self) -> None:
        self.switchboard.advance(self.clock.now_s())
        self.bench.advance()
        self.carry_out()
        self.switchboard.advance(self.clock.now_s())
        self.carry_out()

    def _heard(self, report: Report) -> None:
        match report:
            case RelaySwitched():
                self.bench.relay_is(report.relay, report.on, "")
            case ExposureBegan():
                self.bench.reported(report)
            case ExposureEnded():
                self.lit.append(Lit(report.on_s, report.off_s))
                self.bench.reported(report)
            case CommandRefused(id=str(exposure)):
                self.bench.exposure_refused(exposure, report.words)
            case SwitchboardLost():
                self.bench.relays_made_safe()
                self.bench.trouble("switchboard", report.why)
            case SwitchboardReady():
                self.bench.relays_are_ready()
            case _:
                pass

    def lamp_seconds(self) -> float:
        return math.fsum(lit.lasted_s for lit in self.lit)
