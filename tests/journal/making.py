"""Invented entries for the tests of the journal: sessions, runs and their events."""

from __future__ import annotations

from collections.abc import Sequence

from firmware_py.craft.routine import Development, Routine, Step
from firmware_py.facts.events.run import (
    AnyEvent,
    Entry,
    MarkMade,
    NoteWritten,
    RunEnded,
    RunOpened,
    StepEnded,
    StepFellDue,
    StepStarted,
    TemperatureRead,
)

BOOT = "0123456789abcdef0123456789abcdef"
ROUTINE = Routine(
    name="half-plate",
    title="Half plate in pyro-soda",
    source="invented for the tests",
    steps=(
        Step(
            "Develop", "develop", "pyro-soda", development=Development(360.0, 20.0, 15.0, 25.0, ln_per_K=0.08)
        ),
        Step("Rinse", "rinse", "water", time_s=30.0),
        Step("Fix", "fix", "plain hypo", time_s=600.0),
    ),
)


def subject(n: int) -> str:
    """Return the ``n``-th invented id, a valid UUIDv7 that sorts by ``n``."""
    return f"0192{n:08x}"[:8] + f"-{n & 0xFFFF:04x}-7000-8000-{n:012x}"


def entry(of: str, number: int, event: AnyEvent, boot_s: float | None = None) -> Entry:
    """Return ``event`` as the entry ``number`` of ``of``."""
    at = float(1000 + number) if boot_s is None else boot_s
    utc = f"2026-03-14T20:{number // 60 % 60:02d}:{number % 60:02d}Z"
    return Entry(subject=of, number=number, boot_id=BOOT, boot_s=at, utc=utc, event=event)


def notes(of: str, first: int, last: int) -> list[Entry]:
    """Return remarks as the entries ``first`` to ``last`` of ``of``."""
    return [entry(of, n, NoteWritten(text=f"remark {n}")) for n in range(first, last + 1)]


def run_entries(
    of: str, *, plate: str = "half plate 7", readings: int = 12, ended: bool = True
) -> list[Entry]:
    """Return the entries of one run: developed for ``readings`` x 30 s, rinsed and fixed if ``ended``."""
    happened: list[tuple[float, AnyEvent]] = [
        (0.0, RunOpened(plate=plate, tray="tray 1", routine=ROUTINE, rehearsal=True)),
        (5.0, StepStarted(step=0, bath_degC=20.5, tolerance_K=0.5, source="probe")),
    ]
    bath_degC = 20.5
    for n in range(1, readings + 1):
        bath_degC = 20.5 - 0.0625 * n
        reading = TemperatureRead(bath_degC=bath_degC, tolerance_K=0.5, source="probe")
        happened.append((5.0 + 30.0 * n, reading))
    if readings > 2:
        happened.append((66.0, MarkMade(what="image appears", bath_degC=20.4)))
    if ended:
        happened += _ending(5.0 + 30.0 * readings + 1.0, bath_degC)
    return numbered(of, sorted(happened, key=lambda pair: pair[0]))


def _ending(at_s: float, bath_degC: float) -> list[tuple[float, AnyEvent]]:
    return [
        (at_s, StepEnded(step=0, why="pulled", bath_degC=bath_degC)),
        (at_s + 2.0, StepStarted(step=1)),
        (at_s + 32.0, StepFellDue(step=1)),
        (at_s + 33.0, StepEnded(step=1, why="time")),
        (at_s + 35.0, StepStarted(step=2)),
        (at_s + 635.0, StepFellDue(step=2)),
        (at_s + 640.0, StepEnded(step=2, why="time")),
        (at_s + 640.0, RunEnded(ended="pulled")),
    ]


def numbered(of: str, happened: Sequence[tuple[float, AnyEvent]]) -> list[Entry]:
    """Return events that happened at their seconds as the entries 1, 2, 3, … of ``of``."""
    return [entry(of, n, event, boot_s=1000.0 + at_s) for n, (at_s, event) in enumerate(happened, start=1)]
