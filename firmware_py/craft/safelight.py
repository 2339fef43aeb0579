"""How long a plate may lie open under a safelight, and what is left of that."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from firmware_py.craft.limits import above_zero, not_negative
from firmware_py.craft.refusal import Refused

State = Literal["safe", "nearly used up", "used up"]

# Share of the budget at which the bench warns. Source: own.
WARN_AT = 0.75


def safe_s(no_change_s: float, detectable_s: float) -> float:
    """Return the longest safe time [s] under a safelight, from a test with that light, place and plate.

    Parameters: ``no_change_s`` [s], the longest time that changed nothing, and ``detectable_s`` [s], the next
    one, which changed the image just visibly; 0 < no_change_s < detectable_s; `Refused` otherwise.
    The test must be made on plates that also get an image's exposure: those are the most easily fogged.
    Source: ANSI IT2.26-1998, 3.14: at most half of the geometric mean of the two; ISO 8374:1986.
    """
    above_zero("longest time without a change, s", no_change_s)
    above_zero("shortest time with a change, s", detectable_s)
    if detectable_s <= no_change_s:
        raise Refused(
            f"a change after {detectable_s:g} s but none after {no_change_s:g} s",
            where="safelight test",
            allowed="a change after a longer time than none",
        )
    # Two roots, not the root of the product: no time is too long or too short for it.
    return 0.5 * math.sqrt(no_change_s) * math.sqrt(detectable_s)


@dataclass(frozen=True, slots=True)
class OpenTime:
    """A time [s] for which a plate lay open under one light, named as in the safe times. Source: own."""

    light: str
    time_s: float


@dataclass(frozen=True, slots=True)
class Budget:
    """What a plate has used of its safe time: the sum of its parts, 1 when nothing is left.

    ``used_by_light`` holds each light's part. Source: own.
    """

    used: float
    used_by_light: Mapping[str, float]

    @property
    def state(self) -> State:
        """Get the state in words: safe, nearly used up (from 75 %), or used up. Source: own."""
        if self.used >= 1:
            return "used up"
        return "nearly used up" if self.used >= WARN_AT else "safe"

    def left_s(self, safe_time_s: float) -> float:
        """Return how long [s] the plate may still lie open under a light of safe time ``safe_time_s`` [s].

        Never below 0. Raises `Refused` for a safe time not above 0. Source: own, as `budget`.
        """
        return max(0.0, 1.0 - self.used) * above_zero("safe time, s", safe_time_s)


def budget(open_times: Iterable[OpenTime], safe_times_s: Mapping[str, float]) -> Budget:
    """Add up a plate's open times as parts of each light's safe time [s].

    Fog from one light adds to fog from another, as long as each is weak: half the time of one and half the
    time of the other use the plate up. Raises `Refused` for a light without a safe time and for times that
    cannot be. Source: own, from the reciprocity law; common practice, no source.
    """
    used: dict[str, float] = {}
    for opened in open_times:
        if opened.light not in safe_times_s:
            raise Refused(
                f'no safe time is known for the light "{opened.light}"',
                where="safelight",
                allowed=", ".join(sorted(safe_times_s)) or "a light that was tested",
            )
        safe_time_s = above_zero(f"safe time of {opened.light}, s", safe_times_s[opened.light])
        part = not_negative("open time, s", opened.time_s) / safe_time_s
        used[opened.light] = used.get(opened.light, 0.0) + part
    return Budget(math.fsum(used.values()), used)
