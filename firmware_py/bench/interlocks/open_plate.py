"""Interlock 1: the printing lamp can not be lit while a plate is open anywhere on the bench."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from firmware_py.bench.trays.lane import Lane, Whereabouts
from firmware_py.craft.refusal import Locked

# A plate is open while white light would spoil it (`craft.light_allowed`): from the moment its run is opened,
# when it may be on its way from the holder, until its last fixing step is over. Paper does not count: it lies
# in light that was chosen for it, and the lamp is shaded from the trays. Common practice, no source.

# What can be done about the light, by where the plate is. A wet plate never goes back into its box.
WAYS_OUT: Mapping[Whereabouts, str] = MappingProxyType(
    {
        "dry": "fix it first; or put it back into its box and give up its run",
        "wet": "fix it first",
        "fixing": "wait until it is fixed",
        "interrupted": "continue its run and fix it; give the run up only if it is in its box or fixed",
    }
)


@dataclass(frozen=True, slots=True)
class OpenPlate:
    """A plate that light would spoil: its name, its run, its step, and where that leaves a person."""

    plate: str
    lane: int
    place: str
    whereabouts: Whereabouts


def open_plates(lanes: Iterable[Lane]) -> list[OpenPlate]:
    """Return the plates that are open now, by run."""
    return [
        OpenPlate(lane.record.plate, lane.number, _place(lane), lane.whereabouts)
        for lane in lanes
        if lane.is_open_plate
    ]


def require_no_open_plate(plates: Iterable[OpenPlate]) -> None:
    """Refuse, naming the first open plate and what to do about it."""
    for plate in plates:
        raise Locked(
            f"the printing lamp stays off while plate {plate.plate!r} is open in run {plate.lane} "
            f"({plate.place})",
            where="interlock 1",
            allowed=WAYS_OUT[plate.whereabouts],
        )


def _place(lane: Lane) -> str:
    if lane.away is not None:
        return "interrupted"
    here = lane.here
    return lane.record.plan(here).name if here is not None else "laid ready"
