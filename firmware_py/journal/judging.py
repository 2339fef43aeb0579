"""A verdict as a person gives it, and how it gets into the book."""

from __future__ import annotations

from firmware_py.devices.clock import Clock
from firmware_py.facts.events.run import Entry
from firmware_py.facts.events.verdict import PlateJudged
from firmware_py.facts.verdict import Verdict
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal


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
