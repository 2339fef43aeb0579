"""What came of a run, in lines for a person."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def run_lines(run: Mapping[str, Any]) -> list[str]:
    """Return the lines that tell a run's outcome: a `RunOutcome` of the journal in plain values."""
    rehearsal = " (rehearsal)" if run["rehearsal"] else ""
    lines = [
        f"{run['plate']}{rehearsal}",
        f"  routine   {run['routine']}, ended: {run['ended'] or run['state']}",
    ]
    if run["elapsed_s"] is not None:
        lines.append(f"  developer {clock(run['elapsed_s'])}, {_worth(run)}")
    if run["bath_degC"] is not None:
        bath = run["bath_degC"]
        lines.append(f"  bath      {bath['min']:.1f} to {bath['max']:.1f} degC, mean {bath['mean']:.1f}")
    lines += [f"  mark      {clock(mark['elapsed_s'])} {mark['what']}" for mark in run["marks"]]
    lines += [f"  step      {_step(step)}" for step in run["steps"]]
    lines += [f"  note      {note}" for note in run["notes"]]
    lines += [f"  verdict   {_verdict(verdict)}" for verdict in run["verdicts"]]
    return ["".join(sign if sign.isprintable() else "?" for sign in line) for line in lines]


def clock(seconds: float) -> str:
    """Return a time as minutes and seconds."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def _worth(run: Mapping[str, Any]) -> str:
    if run["target_s"] is None:
        return "no rate of development known"
    worth = f"worth {clock(run['equivalent_s'])} at {run['reference_degC']:g} degC"
    return f"{worth} (wanted {clock(run['target_s'])})"


def _verdict(verdict: Mapping[str, Any]) -> str:
    said = [f"density {verdict['density']}", f"contrast {verdict['contrast']}", f"fog {verdict['fog']}"]
    said += [*verdict["faults"], *([verdict["remark"]] if verdict["remark"] else [])]
    return f"of {verdict['plate']} after {verdict['after']}: {', '.join(said)}"


def _step(step: Mapping[str, Any]) -> str:
    lasted = clock(step["elapsed_s"]) if step["elapsed_s"] is not None else "open"
    return f"{step['name']}: {lasted} ({step['ended'] or 'going on'})"
