"""What the plates on the bench are: their size, their emulsion, what light they bear."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.craft.plate_sizes import read_plate_size
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.events.plate import PlateDescribed


@dataclass(frozen=True, slots=True)
class PlateRule:
    """What a plate is when nobody says otherwise."""

    size: str = ""
    emulsion: str = ""
    sensitivity: Sensitivity | None = None

    @property
    def area_cm2(self) -> float | None:
        """Get the area [cm²] of the usual plate, None where it has no size."""
        return read_plate_size(self.size, where="[plates] size").area_cm2 if self.size else None


def describe(lane: Lane, said: ua.DescribePlate, rule: PlateRule, scribe: Scribe) -> None:
    """Write down what a lane's plates are; what is not said stays as it was, or is as usual."""
    if lane.record.state == "ended" or lane.away is not None:
        raise Refused(f"cannot describe a plate while no run goes on in tray {lane.number}", where="plate")
    before = lane.record.plate_kind
    size = said.size or (before.size if before else rule.size)
    described = PlateDescribed(
        size=read_plate_size(size, where="size").name if size else "",
        area_cm2=len(lane.record.plates) * read_plate_size(size, where="size").area_cm2 if size else 0.0,
        emulsion=said.emulsion or (before.emulsion if before else rule.emulsion),
        sensitivity=said.sensitivity or (before.sensitivity if before else rule.sensitivity),
    )
    if described != before:
        scribe.write(lane.record, described)
