"""The outcome of a rehearsal in words."""

from __future__ import annotations

from typing import Any

from tui.commands.logbook.print_lines import print_lines
from tui.commands.logbook.run_lines import run_lines


def readable(came_of_it: dict[str, Any]) -> list[str]:
    """Return the outcome of a rehearsal as lines for a person."""
    lines = ["REHEARSAL on the simulated bench: nothing here was real."]
    for run in came_of_it["runs"]:
        lines += ["", *run_lines(run)]
    for made in came_of_it["prints"]:
        lines += ["", *print_lines(made)]
    for run in came_of_it["paper_runs"]:
        lines += ["", *run_lines(run)]
    return lines + [f"refused: {words}" for words in came_of_it["refused"]]
