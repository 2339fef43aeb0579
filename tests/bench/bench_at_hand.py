"""A bench on a clock that only the test moves, with one probe and the shipped routines."""

from __future__ import annotations

import math
from dataclasses import replace

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.effects import Play, Write
from firmware_py.bench.foot import FootRule
from firmware_py.craft.routine import BeyondRange, Development, Routine, Step
from firmware_py.devices.clock import SimulatedClock
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import run as ev

LN_PER_K = math.log(2.36) / 10
PLAIN = Routine(
    name="plain",
    title="Develop, rinse, fix",
    source="own",
    steps=(
        Step(
            name="Develop",
            kind="develop",
            bath="developer",
            development=Development(
                target_s=120.0, reference_degC=20.0, low_degC=13.0, high_degC=25.0, ln_per_K=LN_PER_K
            ),
        ),
        Step(name="Rinse", kind="rinse", bath="water", time_s=30.0),
        Step(name="Fix", kind="fix", bath="hypo", time_s=300.0),
    ),
    marks=("image appears", "shadow detail shows"),
)
PROBE = "glass probe"


def plain(beyond: BeyondRange) -> Routine:
    """Return the plain routine, its law going on outside the tested range or held at its edge."""
    develop = PLAIN.steps[0]
    assert develop.development is not None
    told = replace(develop, development=replace(develop.development, beyond=beyond))
    return replace(PLAIN, steps=(told, *PLAIN.steps[1:]))


class BenchAtHand:
    """Moves the clock second by second, reading the probe each second, as the controller would."""

    def __init__(
        self,
        bath_degC: float | None = 20.0,
        *,
        probe: bool = True,
        beyond: BeyondRange = "held",
        routine: Routine | None = None,
    ) -> None:
        self.clock = SimulatedClock()
        self.bath_degC = bath_degC
        self.entries: list[ev.Entry] = []
        self.tunes: list[str] = []
        plan = BenchPlan(
            {"plain": routine or plain(beyond)}, {PROBE: "tray 1"} if probe else {}, foot=FootRule(0.8, 10.0)
        )
        self.bench = Bench(plan, self.clock)
        self._has_probe = probe
        self._turn()

    @property
    def lane(self):
        return self.bench.runs.lanes[1]

    @property
    def events(self) -> list[ev.AnyEvent]:
        return [entry.event for entry in self.entries]

    def do(self, act: acts.AnyAct) -> None:
        try:
            self.bench.do(act)
        finally:
            self._gather()

    def open_and_start(self) -> None:
        self.do(acts.OpenRun(plate="Kvarnvik 3", routine="plain"))
        self.do(acts.Proceed())

    def pass_s(self, seconds: float, step_s: float = 1.0) -> None:
        """Let time pass, stopping at every moment the bench wants to be told of."""
        end_s = self.clock.now_s() + seconds
        next_read_s = self.clock.now_s() + step_s
        turns = 0
        while self.clock.now_s() < end_s - 1e-9:
            turns += 1
            assert turns < 100 * (seconds + 1), "the bench asks to be woken again and again"
            due_s = self.bench.next_due_s()
            self.clock.jump_to(min(x for x in (due_s, next_read_s, end_s) if x is not None))
            reads = self.clock.now_s() >= next_read_s - 1e-9
            if reads:
                next_read_s += step_s
            self._turn(reads=reads)

    def foot(self, *, down: bool) -> None:
        self.bench.step_on(FootEdge(down, self.clock.now_s()))
        self._gather()

    def press(self, held_s: float = 0.1) -> None:
        self.foot(down=True)
        self.pass_s(held_s)
        self.foot(down=False)

    def _turn(self, *, reads: bool = True) -> None:
        if self._has_probe and reads:
            now_s = self.clock.now_s()
            word = (
                NoReading("no wire", now_s) if self.bath_degC is None else Reading(self.bath_degC, 0.5, now_s)
            )
            self.bench.heard(PROBE, word)
        self.bench.advance()
        self._gather()

    def _gather(self) -> None:
        for effect in self.bench.take_effects():
            if isinstance(effect, Write):
                self.entries.append(effect.entry)
            elif isinstance(effect, Play):
                self.tunes.append(effect.tune)
