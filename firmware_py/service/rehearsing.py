"""Rehearsals from the outside: read what was asked for, play it, say what came of it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from firmware_py.bench.rehearsal import RehearsalPlan, check_script, read_speed, rehearsal, session_outcome
from firmware_py.bench.script import ScriptedPerson, read_script, shipped_script
from firmware_py.bench.world import read_trace
from firmware_py.journal.store import Journal
from firmware_py.service.hosting import host

JOURNAL = "journal.db"


def prepared(
    *, state: Path, script: Path | None, trace: Path | None, speed: str, default_script: str | None
) -> RehearsalPlan:
    """Return the plan of a rehearsal, everything in it read and checked.

    Raises Refused for anything wrong, before anything is started.
    """
    played = read_script(script) if script else shipped_script(default_script) if default_script else None
    plan = RehearsalPlan(
        journal=state / JOURNAL,
        speed=read_speed(speed),
        script=played,
        trace=read_trace(trace) if trace else None,
    )
    check_script(plan)
    return plan


async def rehearse(plan: RehearsalPlan, socket: Path | None = None) -> dict[str, Any]:
    """Play a rehearsal to its end and return its outcome, read back from the journal."""
    with Journal.open(plan.journal) as journal:
        controller = await host(lambda: rehearsal(plan, journal), socket)
        refused = controller.person.refused if isinstance(controller.person, ScriptedPerson) else []
        return session_outcome(journal, controller.bench, refused)
