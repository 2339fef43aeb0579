"""Plays a script on the simulated bench and keeps all that came of it: outcome, entries, sounds."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from firmware_py.facts.events import run as ev
from firmware_py.journal.store import Journal
from firmware_py.rehearsal.rehearsal import Rehearsal, RehearsalPlan
from firmware_py.rehearsal.script import Script
from firmware_py.service.resuming import resume_bench
from firmware_py.strict_toml import read_toml_text


@dataclass(frozen=True)
class Rehearsed:
    """What came of a rehearsal: as JSON, by subject in the journal at ``path``, and by ear (boot s, tune)."""

    path: Path
    came: dict[str, Any]
    entries: dict[str, list[ev.Entry]]
    sounds: list[tuple[float, str]]

    def events(self, kind: type[ev.AnyEvent]) -> list[Any]:
        """Return every event of a kind, session by session and run by run."""
        return [e.event for of in self.entries.values() for e in of if isinstance(e.event, kind)]

    def run(self, plate: str) -> dict[str, Any]:
        """Return the outcome of a plate's run."""
        return next(run for run in self.came["runs"] if run["plate"] == plate)


async def play(folder: Path, script: Script) -> Rehearsed:
    """Play a script as fast as it goes."""
    path = folder / "journal.db"
    with Journal.open(path) as journal:
        rehearsal = Rehearsal(RehearsalPlan(journal=path, speed=math.inf, script=script), journal)
        goes_on = True
        while goes_on:
            controller = await rehearsal.controller()
            resume_bench(controller.bench, journal)
            await controller.run()
            goes_on = await rehearsal.goes_on()
        entries = {subject: journal.read(subject) for subject in journal.subjects()}
        came = rehearsal.outcome()
    sounds: list[tuple[float, str]] = [one for sounder in rehearsal.sounders for one in sounder.moments]
    return Rehearsed(path, came, entries, sounds)


def script_of(*deeds: str, water: str = "") -> Script:
    """Return a script of deeds, each as the lines of its table."""
    text = 'title = "test"\n' + water + "".join(f"[[deed]]\n{deed}\n" for deed in deeds)
    return read_toml_text(text, Script, where="script")
