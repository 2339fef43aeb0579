"""What was seen of a plate: when its image appeared, and when it was clear."""

from __future__ import annotations

from firmware_py.journal.run_parts import StepRecord
from firmware_py.journal.run_record import RunRecord


def appeared_s(record: RunRecord, step: StepRecord) -> float | None:
    """Return the equivalent time [s] of the first appearance in a developing step, None before it."""
    name = record.routine.appearance_mark
    marks = (m for m in record.marks if m.step == step.step and m.what == name)
    return next((mark.equivalent_s for mark in marks), None)


def cleared_s(record: RunRecord, step: StepRecord) -> float | None:
    """Return after how long [s] the plate was seen clear in a step, None before it."""
    name = record.routine.clearing_mark
    marks = (m for m in record.marks if m.step == step.step and m.what == name)
    return next((mark.elapsed_s for mark in marks), None)


def cleared_before_s(record: RunRecord, step: StepRecord) -> float | None:
    """Return how long [s] the plate took to clear in the last bath before a step in which it was seen to."""
    earlier = (cleared_s(record, s) for s in reversed(record.steps) if s.step < step.step)
    return next((time_s for time_s in earlier if time_s is not None), None)
