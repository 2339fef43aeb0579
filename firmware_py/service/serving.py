"""Serving a bench from the outside: find its settings and its folder, host it, say what came of it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from firmware_py.bench.controller import Controller
from firmware_py.bench.wiring import wired_bench
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock
from firmware_py.journal.recover import open_or_recover
from firmware_py.journal.store import Journal
from firmware_py.rehearsal.rehearsal import Rehearsal, RehearsalPlan, check_script, read_speed
from firmware_py.rehearsal.script import script_called, shipped_script
from firmware_py.rehearsal.world import read_trace
from firmware_py.service.bookshelf import Bookshelf
from firmware_py.service.hosting import host
from firmware_py.service.resuming import resume_bench
from firmware_py.settings import read_settings
from firmware_py.settings.paths import journal_path, settings_path, socket_path, state_folder

SHIPPED_SCRIPT = "one-plate"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a controller keeps its journal and listens, as far as the command line says."""

    state: Path | None = None
    socket: Path | None = None
    alone_s: float | None = None


async def serve_bench(config: Path | None, place: Place) -> None:
    """Serve the configured bench until told to stop.

    Raises Refused where no bench is configured, a setting is wrong or a device cannot be opened.
    """
    path = config or settings_path()
    if path is None:
        raise Refused("no bench.toml was found", where="serve", allowed="--config FILE, or --rehearsal")
    settings = read_settings(path)
    state = place.state or state_folder(settings)
    socket = place.socket or socket_path(settings, state)
    journal, damage = open_or_recover(journal_path(state))
    with journal:

        async def make() -> Controller:
            controller = await wired_bench(settings, BootClock(), journal)
            if damage:
                controller.bench.trouble("damaged journal", damage)
            resume_bench(controller.bench, journal)
            return controller

        await host(make, socket, shelf=Bookshelf(journal.path), alone_s=place.alone_s)


async def serve_rehearsal(
    place: Place, *, script: Path | None, trace: Path | None, speed: str, unattended: bool
) -> dict[str, Any]:
    """Serve the simulated bench until its script is over or it is told to stop; return what came of it."""
    state = place.state or state_folder(None)
    plan = rehearsal_plan(state=state, script=script, trace=trace, speed=speed, unattended=unattended)
    return await rehearse(plan, place.socket or socket_path(None, state), alone_s=place.alone_s)


def rehearsal_plan(
    *, state: Path, script: Path | None, trace: Path | None, speed: str, unattended: bool
) -> RehearsalPlan:
    """Return the plan of a rehearsal, everything in it read and checked.

    Raises Refused for anything wrong, before anything is started.
    """
    played = script_called(script) if script else shipped_script(SHIPPED_SCRIPT) if unattended else None
    plan = RehearsalPlan(
        journal=journal_path(state),
        speed=read_speed(speed),
        script=played,
        trace=read_trace(trace) if trace else None,
    )
    check_script(plan)
    return plan


async def rehearse(
    plan: RehearsalPlan, socket: Path | None = None, *, alone_s: float | None = None
) -> dict[str, Any]:
    """Play a rehearsal to its end and return its outcome, read back from the journal."""
    with Journal.open(plan.journal) as journal:
        rehearsal = Rehearsal(plan, journal)

        async def make() -> Controller:
            controller = await rehearsal.controller()
            resume_bench(controller.bench, journal)
            return controller

        shelf = Bookshelf(journal.path)
        await host(make, socket, shelf=shelf, alone_s=alone_s)
        while await rehearsal.goes_on():
            await host(make, socket, shelf=shelf, alone_s=alone_s)
        return rehearsal.outcome()
