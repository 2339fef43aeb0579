"""Interlock 1: the printing lamp can not be lit while a plate is open anywhere on the bench."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.refusal import Refused

# A plate counts as open from the moment its run is opened until its last fixing step is over: before that it
# may be on its way from the holder, after that no light harms it. Common practice, no source. Paper does not
# count: it lies in light that was chosen for it, and the lamp is shaded from the trays.


@dataclass(frozen=True, slots=True)
class OpenPlate:
    """A plate that light would spoil: its name, its tray, and where it lies."""

    plate: str
    lane: int
    place: str


def open_plates(lanes: Iterable[Lane]) -> list[OpenPlate]:
    """Return the plates that are open now, by tray."""
    return [OpenPlate(lane.record.plate, lane.number, _place(lane)) for lane in lanes if is_open(lane)]


def require_no_open_plate(plates: Iterable[OpenPlate]) -> None:
    """Refuse, naming the first open plate and what to do about it."""
    for plate in plates:
        raise Refused(
            f"the printing lamp stays dark while plate {plate.plate!r} is open in tray {plate.lane} "
            f"({plate.place})",
            where="interlock 1",
            allowed="fix it first; or put it back into its box and give its run up",
        )


def is_open(lane: Lane) -> bool:
    """Return whether the plate of a lane is open now."""
    record = lane.record
    if record.state == "ended" or record.routine.sheet != "plate":
        return False
    fixes = [number for number, step in enumerate(record.routine.steps) if step.kind == "fix"]
    return not fixes or record.next_step <= fixes[-1]


def _place(lane: Lane) -> str:
    if lane.away is not None:
        return "interrupted"
    here = lane.here
    return lane.record.plan(here).name if here is not None else "laid ready"
