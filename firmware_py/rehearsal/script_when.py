"""What a script's person waits for: words of a file, and whether it is so on the bench."""

from __future__ import annotations

from collections.abc import Mapping

from firmware_py.bench.bench import Bench
from firmware_py.bench.trays.due import change_due_s, look_due_s
from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.simulation import SIGNS, GrowingImage

PLAIN = ("due", "developed", "ended", "dark", "interrupted", "water", "look")
# Each is followed by a name: of a mark, of a step, of a sign that the simulated plate shows.
NAMED = ("marked", "step", "sees")


def check_when(words: str) -> None:
    """Raise ValueError for words that no person can wait for."""
    kind, _, name = words.partition(" ")
    if words in PLAIN or (kind in NAMED and name.strip()):
        if kind == "sees" and name not in SIGNS:
            raise ValueError(f"`when` sees {name!r}; a simulated plate shows: {', '.join(SIGNS)}")
        return
    allowed = ", ".join([*PLAIN, "marked …", "step …", "sees …"])
    raise ValueError(f"`when` is {words!r}; allowed: {allowed}")


def is_so(bench: Bench, lane: Lane | None, when: str, images: Mapping[str, GrowingImage]) -> bool:
    """Return whether what a deed waits for is so, for the lane it is meant for."""
    if when == "dark":
        return not bench.lamp_side.printing.is_exposing
    if lane is None:
        return False
    kind, _, name = when.partition(" ")
    match kind:
        case "marked":
            return any(mark.what == name for mark in lane.record.marks)
        case "step":
            return lane.here is not None and lane.plan is not None and lane.plan.name == name
        case "sees":
            return name in _signs(bench, lane, images)
        case _:
            return _is_plainly_so(bench, lane, when)


def _is_plainly_so(bench: Bench, lane: Lane, when: str) -> bool:
    record, now_s = lane.record, bench.clock.now_s()
    developed = record.development
    asked_s = {"water": change_due_s(lane), "look": look_due_s(lane)}.get(when)
    checks = {
        "due": record.state == "due",
        "developed": developed is not None and developed.ended_s is not None,
        "ended": record.state == "ended",
        "interrupted": lane.away is not None,
    }
    return checks.get(when, asked_s is not None and asked_s <= now_s)


def _signs(bench: Bench, lane: Lane, images: Mapping[str, GrowingImage]) -> tuple[str, ...]:
    image = images.get(lane.record.plate)
    if image is None or lane.record.development is None:
        return ()
    done_s = lane.equivalent_s(bench.clock.now_s()) if lane.is_developing else 0.0
    return image.signs(max(done_s, lane.record.development.equivalent_s))
