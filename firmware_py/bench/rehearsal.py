"""A whole bench made of nothing but arithmetic, for rehearsals: devices, water, and who plays the person."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import msgspec

from firmware_py import __version__
from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.controller import Controller, Devices
from firmware_py.bench.heat_facts import HEATER, JACKET, ROOM, HeatRule
from firmware_py.bench.jacket_world import JacketWater, JacketWorld, evening_water
from firmware_py.bench.lamp_rule import PRINTING_LAMP, LampRule
from firmware_py.bench.plate_light import SafelightTest
from firmware_py.bench.plates import PlateRule
from firmware_py.bench.routines import shipped_routines
from firmware_py.bench.script import Script, ScriptedPerson
from firmware_py.bench.upkeep import UpkeepPlan
from firmware_py.bench.world import FailingProbe, RecordedWater
from firmware_py.bench.world_faults import WorldFaults
from firmware_py.craft.lamp import Lag
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Routine, SheetName
from firmware_py.craft.simulation import FilamentLamp, QuantisedProbe, RecordedTrace
from firmware_py.devices.clock import BootClock, Clock, SimulatedClock
from firmware_py.devices.silent_sounder import SilentSounder
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.bath_rows import row_of_bath
from firmware_py.journal.outcome import outcome
from firmware_py.journal.print_outcome import print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.switchboard.commands import Configure, RelayWiring
from firmware_py.switchboard.link import InProcessSwitchboard, Switchboard
from firmware_py.switchboard.process import ProcessSwitchboard

PROBE = "developer probe"
JACKET_PROBE = "jacket probe"
ROOM_PROBE = "room probe"
PLACES = {PROBE: "tray 1", JACKET_PROBE: JACKET, ROOM_PROBE: ROOM}
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


async def rehearsal(plan: RehearsalPlan, journal: Journal) -> Controller:
    """Return a controller of a simulated bench that writes into ``journal``, ready to run."""
    check_script(plan)
    clock: Clock = BootClock() if plan.speed == 1.0 else SimulatedClock(speed=plan.speed)
    bench = Bench(_bench_plan(plan), clock)
    start_s = clock.now_s()
    world = JacketWorld(start_s, evening_water())
    waters = {
        name: JacketWater(world, place, start_s, QuantisedProbe(seed=seed))
        for seed, (name, place) in enumerate(PLACES.items(), 1)
    }
    probes = {name: FailingProbe(name, water) for name, water in waters.items()}
    if plan.trace is not None:
        probes[PROBE] = FailingProbe(PROBE, RecordedWater(plan.trace, lambda: development_started_s(bench)))
    switchboard = await _switchboard(clock)
    switchboard.listen(world.heard)
    faults = WorldFaults(probes[PROBE], probes[JACKET_PROBE], world, clock)
    person = ScriptedPerson(plan.script, start_s, faults) if plan.script is not None else None
    devices = Devices(switchboard, SilentSounder("sounder"), tuple(probes.values()))
    return Controller(bench, clock, devices, journal, person)


def _bench_plan(plan: RehearsalPlan) -> BenchPlan:
    return BenchPlan(
        plan.routines,
        PLACES,
        relays=tuple(relay.name for relay in RELAYS),
        lamp=LAMP,
        upkeep=UPKEEP,
        rehearsal=True,
        program=__version__,
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


def session_outcome(journal: Journal, bench: Bench, refused: list[str]) -> dict[str, Any]:
    """Return what came of a session, read back from the journal alone."""
    runs = [RunRecord.replay(journal.read(run_id)) for run_id in bench.runs.opened]
    prints = [print_outcome(PrintRecord.replay(journal.read(one))) for one in bench.lamp_side.printing.opened]
    baths = [row_of_bath(BathRecord.replay(journal.read(one))) for one in bench.upkeep.baths.known]
    return {
        "rehearsal": True,
        "session": bench.scribe.session,
        "runs": _came_of(runs, "plate"),
        "paper_runs": _came_of(runs, "paper"),
        "prints": msgspec.to_builtins(prints),
        "baths": [bath._asdict() for bath in baths],
        "refused": refused,
    }


def _came_of(runs: Iterable[RunRecord], sheet: SheetName) -> list[Any]:
    return [msgspec.to_builtins(outcome(run)) for run in runs if run.routine.sheet == sheet]


async def _switchboard(clock: Clock) -> Switchboard:
    """At real speed the real process on mock pins; otherwise the same board in simulated time."""
    if isinstance(clock, BootClock):
        switchboard = ProcessSwitchboard(Configure(RELAYS, "mock"), clock)
        await switchboard.start()
        return switchboard
    return InProcessSwitchboard(RELAYS, clock)
