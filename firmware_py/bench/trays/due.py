"""When the step going on in a tray is due, and by what; in every kind of step."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.endings import Ending, EndingBy, endings
from firmware_py.craft.fixing import time_in_fixer_s
from firmware_py.craft.routine import Step
from firmware_py.craft.temperature import running_rate, time_left_along
from firmware_py.journal.run_parts import StepRecord
from firmware_py.journal.seen import cleared_before_s, cleared_s

# A moment that is reached to a billionth of a second is reached: rounding may never let it come.
REACHED_S = 1e-9


@dataclass(frozen=True, slots=True)
class Due:
    """A moment [boot s] of a step and what it is by; ``ends`` whether a development ends then by itself."""

    at_s: float
    by: EndingBy
    ends: bool = False


@dataclass(frozen=True, slots=True)
class EndingMoment:
    """What may end a development, and the moment [boot s] it will come as things are now."""

    ending: Ending
    at_s: float


def due(lane: Lane, now_s: float) -> Due | None:
    """Return when the step is due as far as is known now; None when none goes on, or nobody can know yet."""
    here, plan = lane.here, lane.plan
    if here is None or plan is None or lane.away is not None:
        return None
    if plan.development is not None:
        return _first_of(ending_moments(lane, now_s))
    whole_s = _whole_time_s(lane, here, plan)
    if whole_s is None:
        return None
    return Due(lane.record.boot_s_at(here.started_s + whole_s), "time")


def forecast(lane: Lane, now_s: float, moments: Sequence[EndingMoment]) -> Due | None:
    """Return when the step will be due if the bath goes on drifting, and the water is changed in time.

    ``moments`` are those of the development as it drifts (see `ending_moments`), which take some reckoning.
    """
    if lane.is_developing:
        return _first_of(moments)
    here, plan, known = lane.here, lane.plan, due(lane, now_s)
    if known is not None or here is None or plan is None or plan.changes == 1 or lane.away is not None:
        return known
    left_s = plan.time_s * (plan.changes - len(here.changed_s))
    return Due(lane.record.boot_s_at(_since_s(here) + left_s), "time")


def ending_moments(lane: Lane, now_s: float, *, drifting: bool = False) -> list[EndingMoment]:
    """Return what may end the development going on, and when: at the rate of now, or as the bath drifts."""
    plan = lane.plan
    if plan is None or plan.development is None or lane.here is None or lane.away is not None:
        return []
    known = endings(plan.development, lane.appeared_s(), lane.target_s)
    done_s, speed = lane.equivalent_s(now_s), lane.speed(now_s)
    is_drifting = drifting and lane.thermometer.last is not None
    moments = []
    for ending in known:
        if ending.equivalent_s is None:
            at_s = (lane.started_s() or now_s) + (ending.elapsed_s or 0.0)
        elif is_drifting and ending.equivalent_s > done_s:
            at_s = now_s + _drifting_s(lane, ending.equivalent_s - done_s, now_s)
        else:
            at_s = now_s + (ending.equivalent_s - done_s) / speed
        moments.append(EndingMoment(ending, at_s))
    return moments


def change_due_s(lane: Lane) -> float | None:
    """Return the moment [boot s] at which the water of a wash is to be changed; None where it is the last."""
    here, plan = lane.here, lane.plan
    if here is None or plan is None or lane.away is not None or lane.record.state != "running":
        return None
    if len(here.changed_s) + 1 >= plan.changes:
        return None
    return lane.record.boot_s_at(_since_s(here) + plan.time_s)


def look_due_s(lane: Lane) -> float | None:
    """Return the moment [boot s] from which a fixer wants to be looked at: is the plate clear?"""
    here, plan = lane.here, lane.plan
    if here is None or plan is None or lane.away is not None or lane.record.state != "running":
        return None
    if plan.clearing not in {"once", "twice"} or cleared_s(lane.record, here) is not None:
        return None
    return lane.record.boot_s_at(here.started_s + plan.time_s)


def doubt_s(lane: Lane, now_s: float) -> float | None:
    """Return how uncertain the end of the step is [s]; about 19 times in 20 the truth lies within.

    By the temperature read so far and expected until then, by the rate's own law, and by a time nobody
    watched: independent parts, as the root of their squares. An end by the clock has only the last.
    """
    here, rate = lane.here, lane.rate
    if here is None:
        return None
    if rate is None:
        return here.doubt_s or None
    moments = ending_moments(lane, now_s, drifting=True)
    coming = _first_of(moments)
    if coming is None:
        return None
    telling = next(m.ending for m in moments if m.at_s == coming.at_s and m.ending.by == coming.by)
    if telling.equivalent_s is None:
        return here.doubt_s
    left_s = max(0.0, telling.equivalent_s - lane.equivalent_s(now_s))
    return math.hypot(_equivalent_doubt_s(lane, now_s, coming.at_s, left_s), here.doubt_s)


def _equivalent_doubt_s(lane: Lane, now_s: float, due_s: float, left_s: float) -> float:
    """Return how uncertain [s of the clock] a development is with ``left_s`` [s] of equivalent time to go."""
    belief, rate = lane.believed(now_s), lane.rate
    if rate is None:
        return 0.0
    so_far = lane.record.equivalent_doubt_at(
        lane.record.run_s_at(now_s), belief.bath_degC, belief.tolerance_K
    )
    coming_degC, tolerance_K = belief.bath_degC, belief.tolerance_K
    if lane.thermometer.last is not None:
        coming_degC, spread_K = lane.thermometer.drift().at((now_s + max(now_s, due_s)) / 2)
        tolerance_K = math.hypot(spread_K, lane.thermometer.last.tolerance_K)
    whole = so_far.after(rate, coming_degC, tolerance_K, left_s)
    return whole.total_s / running_rate(rate, coming_degC)


def _first_of(moments: Sequence[EndingMoment]) -> Due | None:
    telling = [m for m in moments if m.ending.ends or m.ending.by == "ceiling"]
    first = min(telling, key=lambda m: m.at_s, default=None)
    return None if first is None else Due(first.at_s, first.ending.by, first.ending.ends)


def _drifting_s(lane: Lane, wanted_s: float, now_s: float) -> float:
    """Return how long ``wanted_s`` of equivalent time [s] takes while the bath goes on as it drifts."""
    rate = lane.rate
    return wanted_s if rate is None else time_left_along(rate, wanted_s, lane.thermometer.drift(), now_s)


def _whole_time_s(lane: Lane, here: StepRecord, plan: Step) -> float | None:
    """Return how long after its start a step without development is due [s], None where nobody can know."""
    if plan.clearing is not None:
        if plan.clearing == "again":
            return time_in_fixer_s("again", plan.time_s, cleared_before_s(lane.record, here) or 0.0)
        return time_in_fixer_s(plan.clearing, plan.time_s, cleared_s(lane.record, here))
    if plan.changes > 1:
        waters_left = plan.changes - len(here.changed_s)
        return None if waters_left > 1 else _since_s(here) - here.started_s + plan.time_s
    return plan.time_s


def _since_s(here: StepRecord) -> float:
    """Return when the water was last fresh, in the run's time [s]."""
    return here.changed_s[-1] if here.changed_s else here.started_s
