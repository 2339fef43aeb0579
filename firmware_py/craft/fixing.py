"""How long to fix, and whether the fixer is still good, from the time in which a plate clears."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Clearing

TIMES_CLEARING = 2.0  # Wall, Dictionary of Photography; The Book of Photography
TWO_BATHS_S = (600.0, 300.0)  # Wall, Dictionary of Photography: ten minutes and five
# A bath that takes twice as long as when fresh has had its day: Studio Light, 1923, "Testing fixing baths and
# the rate of fixation" (seen; the copy breaks off within the sentence). The earlier warning is ours.
SPENT_AT = 2.0
AGEING_AT = 1.5
LONGEST_CLEARING_S = 3600.0

State = Literal["fresh", "ageing", "spent"]


@dataclass(frozen=True, slots=True)
class FixerVerdict:
    """What the clearing time says of a fixer: its state, and how many times the fresh time it takes.

    Source: own.
    """

    state: State
    times_fresh: float


def fixing_time_s(clearing_s: float, times: float = TIMES_CLEARING) -> float:
    """Return the whole time [s] in the fixer for a plate that cleared in ``clearing_s`` [s].

    Valid above 0 s and up to an hour, ``times`` from 1.5 to 5; raises `Refused` outside.
    Source: E. J. Wall, *Dictionary of Photography*, and *The Book of Photography*: twice the time to clear.
    """
    if not 1.5 <= times <= 5:
        raise Refused(f"{times:g} times the clearing time", where="times", allowed="1.5 to 5")
    return _clearing(clearing_s, "clearing") * times


def two_bath_times_s(clearing_s: float) -> tuple[float, float]:
    """Return the times [s] in the first and the second of two fixers: 10 and 5 min, or more.

    The first is never shorter than twice the clearing time. Valid above 0 s and up to an hour; raises
    `Refused` outside. Source: E. J. Wall, *Dictionary of Photography* (10 + 5 min).
    """
    return max(TWO_BATHS_S[0], fixing_time_s(clearing_s)), TWO_BATHS_S[1]


def time_in_fixer_s(clearing: Clearing, least_s: float, cleared_s: float | None) -> float | None:
    """Return the whole time [s] in a fixer for a plate that cleared after ``cleared_s`` [s], or None.

    *once* until it is clear, *twice* the time that took, *again* as long as it took in the bath before;
    never below ``least_s`` [s]. None while the plate has not been seen clear: then nobody can know.
    Source: twice: E. J. Wall, *Dictionary of Photography*; the other two: common practice, no source.
    """
    if cleared_s is None:
        return None
    return max(least_s, cleared_s * (TIMES_CLEARING if clearing == "twice" else 1.0))


def fixer_verdict(
    clearing_s: float, fresh_clearing_s: float, *, ageing_at: float = AGEING_AT, spent_at: float = SPENT_AT
) -> FixerVerdict:
    """Return the fixer's state from the clearing time [s] now and when it was fresh [s], same kind of plate.

    *spent* from ``spent_at`` times the fresh time, *ageing* from ``ageing_at`` times. Valid for times above
    0 s and up to an hour and 1 < ageing_at <= spent_at; raises `Refused` outside.
    Source: twice: Studio Light 1923 (seen in part), and common practice; one and a half: common practice,
    no source. Both can be changed.
    """
    if not 1 < ageing_at <= spent_at < math.inf:
        raise Refused(
            f"ageing at {ageing_at:g} and spent at {spent_at:g} times the fresh time",
            where="spent at",
            allowed="1 < ageing <= spent",
        )
    times = _clearing(clearing_s, "clearing") / _clearing(fresh_clearing_s, "fresh clearing")
    state: State = "spent" if times >= spent_at else "ageing" if times >= ageing_at else "fresh"
    return FixerVerdict(state, times)


def _clearing(clearing_s: float, what: str) -> float:
    if 0 < clearing_s <= LONGEST_CLEARING_S:
        return clearing_s
    raise Refused(f"{clearing_s:g} s to clear", where=what, allowed="above 0 s and up to an hour")
