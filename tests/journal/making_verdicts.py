"""Invented verdicts, and runs that were judged."""

from __future__ import annotations

from msgspec.structs import replace

from firmware_py.facts.events import run as ev
from firmware_py.facts.events import verdict as ve
from tests.journal.making import BOOT, numbered, run_entries

ANOTHER_BOOT = BOOT[::-1]
DRY = ve.PlateJudged(plate="half plate 7", after="drying", density="dense", contrast="rather hard")
PRINTED = ve.PlateJudged(
    plate="half plate 7",
    after="printing",
    density="rather dense",
    contrast="hard",
    fog="slight",
    faults=("pinholes", "stain"),
    shadow_density=0.45,
    highlight_density=1.95,
    fog_density=0.18,
    gamma=1.1,
    remark="sky blocked over the breakwater",
)


def judged_run_entries(
    of: str, *verdicts: ve.PlateJudged, box: str = "spring 1", readings: int = 12, rehearsal: bool = True
) -> list[ev.Entry]:
    """Return a run of a box, judged by ``verdicts`` (dry, printed) once the machine had started anew."""
    entries = run_entries(of, readings=readings)
    opened = entries[0].event
    assert isinstance(opened, ev.RunOpened)
    entries[0] = replace(entries[0], event=replace(opened, box=box, rehearsal=rehearsal))
    number = entries[-1].number
    later = numbered(of, [(60.0 * n, verdict) for n, verdict in enumerate(verdicts or (DRY, PRINTED))])
    return entries + [
        replace(entry, number=number + n, boot_id=ANOTHER_BOOT) for n, entry in enumerate(later, 1)
    ]
