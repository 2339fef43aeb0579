"""1. White light is never told to be allowed before the last fixer, nor while interlock 1 holds the lamp."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tests.faults.invariants.case import Case, Invariant, Verdict


def never_white_before_fixing(case: Case) -> Iterator[Verdict]:
    """In every view: a run before the end of its last fixer is open; neither it nor the room gets white."""
    for seen in case.evidence.seen:
        for lane in seen.bench["lanes"]:
            if not _is_unfixed(lane):
                continue
            told = (lane["light_allowed"], seen.bench["light_allowed"], lane["is_open"])
            held = told[0] != "white" and told[1] != "white" and told[2] is True
            yield Verdict(held, f"run {lane['lane']} at {_step(lane)} was told: {told}")


def never_white_while_the_lamp_is_held_off(case: Case) -> Iterator[Verdict]:
    """A view whose lamp is held off by interlock 1 tells of white light nowhere."""
    for seen in case.evidence.seen:
        if seen.bench["lamp"]["blocked"].startswith("interlock 1"):
            held = seen.bench["light_allowed"] != "white"
            yield Verdict(held, "white light was told to be allowed while interlock 1 held the lamp off")


def _is_unfixed(lane: dict[str, Any]) -> bool:
    fixes = [number for number, step in enumerate(lane["steps"]) if step["kind"] == "fix"]
    return bool(lane["state"] != "ended" and lane["step"] <= fixes[-1])


def _step(lane: dict[str, Any]) -> str:
    return str(lane["steps"][lane["step"]]["name"])


INVARIANTS = (
    Invariant(1, "no white light before the last fixer is over", never_white_before_fixing),
    Invariant(1, "no white light while the lamp is held off", never_white_while_the_lamp_is_held_off),
)
