"""What the cues of a tray hang on, read off its run."""

from __future__ import annotations

from firmware_py.bench.trays.cues import StepTimes
from firmware_py.bench.trays.due import Due, change_due_s, look_due_s
from firmware_py.bench.trays.lane import Lane


def step_times(lane: Lane, coming: Due | None) -> StepTimes | None:
    """Return the times of the step going on in a lane, which is ``coming`` to its due; None where none is."""
    here, plan, started_s = lane.here, lane.plan, lane.started_s()
    if here is None or plan is None or started_s is None or lane.away is not None:
        return None
    is_over = lane.record.state == "due" and here.due_s is not None
    coming = None if is_over else coming
    at_ceiling = lane.is_developing if is_over else coming is not None and coming.by == "ceiling"
    return StepTimes(
        name=plan.name,
        started_s=started_s,
        due_s=coming.at_s if coming else None,
        over_since_s=lane.record.boot_s_at(here.due_s) if is_over and here.due_s is not None else None,
        at_ceiling=at_ceiling,
        then=then_words(lane),
        rock_every_s=plan.agitate_every_s if lane.is_developing or not is_over else None,
        change_due_s=change_due_s(lane),
        water=len(here.changed_s) + 1,
        look_from_s=look_due_s(lane),
    )


def then_words(lane: Lane) -> str:
    """Return where the plate goes when its step is over."""
    if lane.plan is not None and lane.plan.development is not None and lane.record.state == "due":
        return "pull the plate"
    return f"on to {lane.after.name}" if lane.after is not None else "take the plate out"
