"""A verdict as a person gives it, and how it gets into the book."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.craft.contrast import LARGEST_GAMMA
from firmware_py.craft.verdict import Contrast, Density, Fault, Fog
from firmware_py.devices.clock import Clock
from firmware_py.journal.events import Entry
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.journal.verdict_check import DENSEST
from firmware_py.journal.verdict_events import PlateJudged

Measured = Annotated[float, msgspec.Meta(ge=0.0, le=DENSEST)] | None


class Verdict(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a person says of a plate; densities as read, fog and base included, None where not measured."""

    after: Literal["drying", "printing"] = "drying"
    density: Density = "right"
    contrast: Contrast = "right"
    fog: Fog = "none"
    faults: tuple[Fault, ...] = ()
    shadow_density: Measured = None
    highlight_density: Measured = None
    fog_density: Measured = None
    gamma: Annotated[float, msgspec.Meta(gt=0.0, le=LARGEST_GAMMA)] | None = None
    remark: Annotated[str, msgspec.Meta(max_length=2000)] = ""


def judged(verdict: Verdict, plate: str) -> PlateJudged:
    """Return the event that keeps a verdict on ``plate``; each fault once."""
    said = {name: getattr(verdict, name) for name in verdict.__struct_fields__}
    return PlateJudged(plate=plate, **{**said, "faults": tuple(dict.fromkeys(verdict.faults))})


def judge(journal: Journal, run_id: str, plate: str, verdict: Verdict, clock: Clock) -> RunRecord:
    """Write a verdict on a plate of a run (the first, if not said) into a book nobody else writes.

    Raises `Refused` where the run can not take it.
    """
    record = RunRecord.replay(journal.read(run_id))
    entry = Entry(
        subject=run_id,
        number=record.number + 1,
        boot_id=clock.boot_id,
        boot_s=clock.now_s(),
        utc=clock.utc().isoformat(timespec="milliseconds"),
        event=judged(verdict, plate or record.plate),
    )
    record.apply(entry)
    journal.append([entry])
    return record
