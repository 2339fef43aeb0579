"""A bench with several trays and baths on a clock that only the test moves."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.effects import AskBook, Play, Switch, Write
from firmware_py.bench.show import show
from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.routine import Development, Routine, Step
from firmware_py.devices.clock import SimulatedClock
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import run as ev
from firmware_py.facts.views.run import LaneView
from firmware_py.journal.run_record import RunRecord

Degrees = float | Callable[[float], float | None]

LN_PER_K = math.log(2.36) / 10
BY_TIME = Development(
    target_s=300.0, reference_degC=20.0, low_degC=13.0, high_degC=25.0, ln_per_K=LN_PER_K, ceiling_s=900.0
)
DEVELOP = Step("Develop", "develop", "developer", development=BY_TIME, agitate_every_s=30.0)
RINSE = Step("Rinse", "rinse", "water", time_s=30.0)
FIX = Step("Fix", "fix", "hypo", time_s=240.0, clearing="twice")
WASH = Step("Wash", "wash", "clean water", time_s=60.0, changes=3, light="white")


def routine(*steps: Step, name: str = "tray", **more: Any) -> Routine:
    """Return a routine of these steps with three marks."""
    marks = ("image appears", "shadow detail shows", "plate is clear")
    return replace(Routine(name=name, title=name, source="own", steps=steps, marks=marks), **more)


def developed(**more: Any) -> Step:
    """Return the developing step with its development changed."""
    return replace(DEVELOP, development=replace(BY_TIME, **more))


ALL = routine(DEVELOP, RINSE, FIX, WASH, name="all")


class TraysAtHand:
    """Moves the clock from one wanted moment to the next, reading every probe each second."""

    def __init__(
        self,
        *routines: Routine,
        baths: Mapping[str, Degrees] | None = None,
        clock: SimulatedClock | None = None,
    ) -> None:
        self.clock = clock or SimulatedClock(start_s=50.0)
        self.baths = dict(baths if baths is not None else {"developer": 20.0})
        self.entries: list[ev.Entry] = []
        self.tunes: list[tuple[float, str]] = []
        self.switched: list[tuple[str, bool]] = []
        self.asked: list[AskBook] = []
        plan = BenchPlan({r.name: r for r in routines or (ALL,)}, {f"in {bath}": bath for bath in self.baths})
        self.bench = Bench(plan, self.clock)
        self._read()
        self._gather()

    def lane(self, number: int = 1) -> Lane:
        return self.bench.runs.lanes[number]

    def view(self, number: int = 1) -> LaneView:
        return next(lane for lane in show(self.bench).lanes if lane.lane == number)

    def step(self, number: int = 1) -> str:
        plan = self.lane(number).plan
        return plan.name if plan is not None else ""

    def do(self, act: acts.AnyAct) -> None:
        try:
            self.bench.do(act)
        finally:
            self._gather()

    def open(self, name: str = "all", plate: str = "Kvarnvik 3", **more: Any) -> None:
        """Lay a plate ready and put it in."""
        self.do(acts.OpenRun(plate=plate, routine=name, **more))
        self.do(acts.Proceed())

    def foot(self, *, down: bool) -> None:
        self.bench.step_on(FootEdge(down, self.clock.now_s()))
        self._gather()

    def press(self, held_s: float = 0.1) -> None:
        self.foot(down=True)
        self.pass_s(held_s)
        self.foot(down=False)

    def pass_s(self, seconds: float) -> None:
        end_s = self.clock.now_s() + seconds
        while self.clock.now_s() < end_s - 1e-9:
            read_s = math.floor(self.clock.now_s() + 1e-9) + 1.0
            due_s = self.bench.next_due_s()
            self.clock.jump_to(min(x for x in (due_s, read_s, end_s) if x is not None))
            if self.clock.now_s() >= read_s - 1e-9:
                self._read()
            self.bench.advance()
            self._gather()

    def tunes_since(self, from_s: float) -> list[str]:
        return [tune for at_s, tune in self.tunes if at_s >= from_s - 1e-9]

    def events(self, kind: type[ev.AnyEvent] | None = None) -> list[ev.AnyEvent]:
        return [e.event for e in self.entries if kind is None or isinstance(e.event, kind)]

    def records(self) -> list[RunRecord]:
        """Return every run, replayed from what was written."""
        runs = [e.subject for e in self.entries if isinstance(e.event, ev.RunOpened)]
        return [RunRecord.replay(self.of(run_id)) for run_id in runs]

    def of(self, run_id: str) -> Iterable[ev.Entry]:
        return [e for e in self.entries if e.subject == run_id]

    def _read(self) -> None:
        now_s = self.clock.now_s()
        for bath, degrees in self.baths.items():
            found = degrees(now_s) if callable(degrees) else degrees
            word = NoReading("no wire", now_s) if found is None else Reading(found, 0.5, now_s)
            self.bench.heard(f"in {bath}", word)

    def _gather(self) -> None:
        for effect in self.bench.take_effects():
            match effect:
                case Write():
                    self.entries.append(effect.entry)
                case Play():
                    self.tunes.append((self.clock.now_s(), effect.tune))
                case Switch():
                    self.switched.append((effect.relay, effect.on))
                    self.bench.relay_is(effect.relay, effect.on, "")
                case AskBook():
                    self.asked.append(effect)
                case _:
                    pass
