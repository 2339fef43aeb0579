"""What came of a run, in lines for a person."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from firmware_py.journal.outcome import RunOutcome, StepOutcome
from firmware_py.report.run import about_facts, development_facts, verdict_facts
from firmware_py.report.told import Fact, clock, plain


def run_lines(run: RunOutcome | Mapping[str, Any]) -> list[str]:
    """Return the lines that tell a run's outcome, as it is or in plain values."""
    came = run if isinstance(run, RunOutcome) else msgspec.convert(run, RunOutcome)
    rehearsal = " (rehearsal)" if came.rehearsal else ""
    lines = [
        f"{came.plate}{rehearsal}",
        _line("Routine", f"{came.routine}, ended: {came.ended or came.state}"),
        *map(_told, (*about_facts(came), *development_facts(came))),
    ]
    lines += [_line("Mark", f"{clock(mark.elapsed_s)} {mark.what}") for mark in came.marks]
    lines += [_line("Step", _step(step)) for step in came.steps]
    lines += [_line("Note", note) for note in came.notes]
    for plate, facts in verdict_facts(came):
        lines += [_line("Verdict", f"of {plate}"), *map(_told, facts)]
    return [plain(line) for line in lines]


def _told(fact: Fact) -> str:
    return _line(fact.name, fact.value)


def _line(name: str, value: str) -> str:
    return f"  {name.casefold():<12} {value}"


def _step(step: StepOutcome) -> str:
    lasted = clock(step.elapsed_s) if step.elapsed_s is not None else "open"
    return f"{step.name}: {lasted} ({step.ended or 'going on'})"
