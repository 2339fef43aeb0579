"""What a rehearsal can let happen to the controller itself: killed, or left without power for a while."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import Literal, get_args

from firmware_py.devices.clock import Clock, SimulatedClock

BreakdownName = Literal["controller killed", "power cut"]
BREAKDOWNS: frozenset[str] = frozenset(get_args(BreakdownName))
# How long a board takes from power to a running controller. Common practice, no source.
START_UP_S = 20.0
USUAL_AWAY_S = 30.0


@dataclass(frozen=True, slots=True)
class Breakdown:
    """The controller is gone for ``away_s`` [s]; the wall clock is then wrong by ``clock_off_s`` [s]."""

    name: BreakdownName
    away_s: float = USUAL_AWAY_S
    clock_off_s: float = 0.0

    def clock_after(self, clock: Clock) -> Clock:
        """Return the clock of the next controller: the same, or that of a machine that started anew."""
        if self.name == "controller killed":
            return clock
        away = timedelta(seconds=max(self.away_s, START_UP_S) + self.clock_off_s)
        return SimulatedClock(speed=clock.speed, start_s=START_UP_S, start_utc=clock.utc() + away)
