"""A whole bench made of nothing but arithmetic, for rehearsals: devices, water, and who plays the person."""

from __future__ import annotations

import asyncio
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from firmware_py import __version__
from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.controller import Controller
from firmware_py.bench.lamp.lamp_rule import PRINTING_LAMP, LampRule
from firmware_py.bench.open_devices import Devices
from firmware_py.bench.routines import shipped_routines
from firmware_py.bench.upkeep.plate_light import SafelightTest
from firmware_py.bench.upkeep.plates import PlateRule
from firmware_py.bench.upkeep.upkeep import UpkeepPlan
from firmware_py.bench.warmth.heat_facts import HEATER, HeatRule
from firmware_py.bench.wired import Wired
from firmware_py.craft.lamp import Lag
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Routine
from firmware_py.craft.simulation import FilamentLamp, RecordedTrace
from firmware_py.devices.clock import BootClock, Clock, SimulatedClock
from firmware_py.devices.silent_sounder import SilentSounder
from firmware_py.journal.pulled import PulledPlates
from firmware_py.journal.store import Journal
from firmware_py.rehearsal.breakdown import START_UP_S
from firmware_py.rehearsal.person import ScriptedPerson
from firmware_py.rehearsal.rehearsal_outcome import Known
from firmware_py.rehearsal.rehearsed_world import JACKET_PROBE, PROBE, RehearsedWorld
from firmware_py.rehearsal.script import Script
from firmware_py.rehearsal.world import FailingProbe, RecordedWater
from firmware_py.rehearsal.world_faults import WorldFaults
from firmware_py.switchboard.commands import Configure, RelayWiring
from firmware_py.switchboard.link import InProcessSwitchboard, Switchboard
from firmware_py.switchboard.process import ProcessSwitchboard

HEAT = HeatRule(jacket_ml=3000.0)
RELAYS = (
    RelayWiring("safelight", pin=17),
    RelayWiring(PRINTING_LAMP, pin=22, ceiling_s=3600.0, continuous=False),
    RelayWiring(HEATER, pin=23, stay_limit_s=HEAT.stay_limit_s),
)
# An invented emulsion and an invented test of it: half a plate may lie under the safelight for 37 min.
UPKEEP = UpkeepPlan(
    plates=PlateRule("English half plate", "Skarnholm blue", "blue"),
    safelight_tests=(SafelightTest("Skarnholm blue", 3600.0, 5400.0),),
    heat=HEAT,
)
# The lag test of the simulated lamp, as if a careful person had made it.
LAMP = LampRule(
    name="60 W opal lamp",
    lag=Lag(FilamentLamp().lag_s, 0.005, 0.5),
    distance_mm=600.0,
    longest_on_s=3600.0,
)
SLOWEST, FASTEST = 0.1, 10_000.0


@dataclass(frozen=True, slots=True)
class RehearsalPlan:
    """What to rehearse: ``speed`` (inf jumps from moment to moment), a script, a recorded temperature."""

    journal: Path
    speed: float = 1.0
    script: Script | None = None
    trace: RecordedTrace | None = None
    routines: Mapping[str, Routine] = field(default_factory=shipped_routines)


def read_speed(text: str) -> float:
    """Return a speed as a person writes it: ``max``, or a number from 0.1 to 10000."""
    if text == "max":
        return math.inf
    try:
        speed = float(text)
    except ValueError:
        speed = math.nan
    if not SLOWEST <= speed <= FASTEST:
        raise Refused(f"speed {text[:40]!r}", where="--speed", allowed=f"max, or {SLOWEST:g} to {FASTEST:g}")
    return speed


def _clock_after(last_utc: str | None, speed: float) -> Clock:
    """Return a clock that is not behind the book: what was rehearsed fast ended later than it is now."""
    real = BootClock()
    last = datetime.fromisoformat(last_utc) if last_utc else real.utc()
    if last > real.utc():
        begins = last + timedelta(seconds=START_UP_S)
        return SimulatedClock(speed=speed, start_s=START_UP_S, start_utc=begins)
    return real if speed == 1.0 else SimulatedClock(speed=speed)


class Rehearsal:
    """A session on the simulated bench: its world outlives the controllers that a script lets die.

    ``controller`` makes the next of them, ``goes_on`` tells after each whether there is to be another. A
    ``clock`` of the caller's own sets the session on a day of its own.
    """

    def __init__(self, plan: RehearsalPlan, journal: Journal, clock: Clock | None = None) -> None:
        check_script(plan)
        self.sounders: list[SilentSounder] = []
        self._plan = plan
        self._journal = journal
        self._clock: Clock = clock or _clock_after(journal.last_utc(), plan.speed)
        self._world = RehearsedWorld(self._clock.now_s(), plan.script.water if plan.script else ())
        self._bench: Bench | None = None
        self._person = self._scripted() if plan.script is not None else None
        self._known = Known()

    async def controller(self) -> Controller:
        """Return a controller of the simulated bench, ready to run."""
        bench = Bench(_bench_plan(self._plan, self._world.places), self._clock)
        self._bench = bench
        sounder = SilentSounder("sounder", self._clock)
        self.sounders.append(sounder)
        probes = dict(self._world.probes)
        if self._plan.trace is not None:
            water = RecordedWater(self._plan.trace, lambda: development_started_s(bench))
            probes[PROBE] = FailingProbe(PROBE, water)
        for probe in probes.values():
            probe.plug_in()
        switchboard = await _switchboard(self._clock)
        switchboard.listen(self._world.jacket.heard)
        devices = Devices(switchboard, sounder, tuple(probes.values()))
        precedents = PulledPlates(self._journal.path)
        return Controller(bench, self._clock, devices, self._journal, self._person, precedents)

    async def goes_on(self) -> bool:
        """Return whether a controller died by the script, the world now being as the next one finds it."""
        if self._bench is not None:
            self._known.remember(self._bench)
        person = self._person
        if person is None or person.breakdown is None:
            return False
        breakdown, before, died_s = person.breakdown, self._clock, self._clock.now_s()
        self._clock = breakdown.clock_after(before)
        self._world.lose_power(died_s)
        if self._clock is before:
            await before.wait_until(died_s + breakdown.away_s, asyncio.Event())
            person.begin_again(person.start_s)
            return True
        passed_s = died_s + max(breakdown.away_s, START_UP_S) - self._clock.now_s()
        self._world.pass_s(passed_s)
        person.begin_again(person.start_s - passed_s)
        return True

    def outcome(self) -> dict[str, Any]:
        """Return what came of the session, read back from the journal alone."""
        refused = self._person.refused if self._person is not None else []
        return {**self._known.outcome(self._journal), "refused": refused}

    def _now_s(self) -> float:
        return self._clock.now_s()

    def _scripted(self) -> ScriptedPerson | None:
        script = self._plan.script
        if script is None:
            return None
        faults = WorldFaults(self._world.probes, PROBE, JACKET_PROBE, self._world.jacket, self._now_s)
        return ScriptedPerson(script, self._clock.now_s(), faults)


def _bench_plan(plan: RehearsalPlan, places: Mapping[str, str]) -> BenchPlan:
    return BenchPlan(
        plan.routines,
        places,
        relays=tuple(relay.name for relay in RELAYS),
        lamp=LAMP,
        upkeep=UPKEEP,
        rehearsal=True,
        program=__version__,
        wired=(
            Wired("switchboard", "switchboard", "simulated"),
            *(Wired("relay", relay.name, "simulated") for relay in RELAYS),
            *(Wired("probe", probe, "simulated") for probe in places),
            Wired("foot switch", "foot switch", "keyboard only"),
            Wired("sounder", "sounder", "simulated, silent"),
        ),
    )


def check_script(plan: RehearsalPlan) -> None:
    """Refuse a script that opens a routine which is not there, before anything starts."""
    for number, deed in enumerate(plan.script.deed if plan.script else (), 1):
        wanted = deed.open.routine if deed.open is not None else deed.bathe
        if wanted is not None and wanted not in plan.routines:
            raise Refused(
                f"there is no routine {wanted!r}",
                where=f"script, deed {number}",
                allowed=", ".join(plan.routines),
            )


def development_started_s(bench: Bench) -> float | None:
    """Return the moment [boot s] the first development on a bench started, or None before it."""
    moments = [
        lane.record.boot_s_at(step.started_s)
        for lane in bench.runs.lanes.values()
        for step in lane.record.steps
        if lane.record.plan(step).kind == "develop"
    ]
    return min(moments, default=None)


async def _switchboard(clock: Clock) -> Switchboard:
    """At real speed the real process on mock pins; otherwise the same board in simulated time."""
    if isinstance(clock, BootClock):
        switchboard = ProcessSwitchboard(Configure(RELAYS, "mock"), clock)
        await switchboard.start()
        return switchboard
    return InProcessSwitchboard(RELAYS, clock)
