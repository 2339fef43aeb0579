"""A bath in its tray: how old it is, how much it has done, and whether to trust a plate to it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from firmware_py.craft.exhaustion import area_left_cm2, share_done
from firmware_py.craft.refusal import Refused

# When little is left of a bath, it is time to mix the next: the last tenth. Common practice, no source.
NEARLY_AT = 0.9

State = Literal["good", "nearly done", "used up", "too old", "not known"]


@dataclass(frozen=True, slots=True)
class BathState:
    """What is left of a bath: area [cm²] and time [s], None where nobody says how much it does or keeps.

    Source: own.
    """

    state: State
    share_done: float | None
    left_cm2: float | None
    age_s: float
    left_s: float | None

    @property
    def is_trusted(self) -> bool:
        """Get whether nothing speaks against another plate. Source: own."""
        return self.state in {"good", "nearly done", "not known"}


def bath_state(
    *,
    volume_ml: float,
    done_cm2: float,
    cm2_per_l: float | None,
    made: datetime,
    now: datetime,
    keeps_s: float | None,
) -> BathState:
    """Return the state of a bath of ``volume_ml`` [ml] that has done ``done_cm2`` [cm²].

    ``cm2_per_l`` [cm²/l] is its capacity and ``keeps_s`` [s] its keeping time, None where not known; both
    moments are given, no clock is read. *Too old* goes before *used up*. Raises `Refused` for a bath made
    after now and for volumes and areas out of range. Source: own; the last tenth is common practice, no
    source.
    """
    age = age_s(made, now)
    aged = None if keeps_s is None else age / keeps_s
    done = None if cm2_per_l is None else share_done(cm2_per_l, volume_ml, done_cm2)
    return BathState(
        state=_state(done, aged),
        share_done=done,
        left_cm2=None if cm2_per_l is None else area_left_cm2(cm2_per_l, volume_ml, done_cm2),
        age_s=age,
        left_s=None if keeps_s is None else keeps_s - age,
    )


def age_s(made: datetime, now: datetime) -> float:
    """Return the age [s] of a bath from two moments, both with a time zone or both without.

    Raises `Refused` for a bath made after now, and for one moment with a zone and one without.
    Source: calendar.
    """
    if (made.tzinfo is None) != (now.tzinfo is None):
        raise Refused("one moment has a time zone and the other has none", where="made")
    if made > now:
        raise Refused(f"a bath made {made} can not be used {now}", where="made", allowed="not later than now")
    return (now - made).total_seconds()


def _state(done: float | None, aged: float | None) -> State:
    if aged is not None and aged > 1:
        return "too old"
    if done is not None and done >= 1:
        return "used up"
    if done is None and aged is None:
        return "not known"
    return "nearly done" if max(done or 0, aged or 0) >= NEARLY_AT else "good"
