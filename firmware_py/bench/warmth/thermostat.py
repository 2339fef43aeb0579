"""How much of its power the heater gives: full when far too cold, in proportion near the set point."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from firmware_py.bench.warmth.heat_facts import HeatRule
from firmware_py.devices.probe import Reading

if TYPE_CHECKING:
    from simple_pid import PID

# A pause longer than this between two readings says nothing of what was wanting meanwhile.
LONGEST_STEP_S = 10.0


class Thermostat:
    """Turns readings into a share of power, 0 to 1.

    What is wanting is only added up within the band, so that a long warming-up does not overshoot.
    """

    def __init__(self, rule: HeatRule, now_s: Callable[[], float]) -> None:
        self._rule = rule
        self._now_s = now_s
        self._pid: PID | None = None
        self._last: Reading | None = None
        self._share = 0.0
        self.set_degC = 0.0

    def aim(self, set_degC: float) -> None:
        """Aim at ``set_degC`` [degC]."""
        self.set_degC = set_degC
        if self._pid is not None:
            self._pid.setpoint = set_degC

    def forget(self) -> None:
        """Forget what was wanting so far."""
        self._pid, self._last, self._share = None, None, 0.0

    def share(self, reading: Reading) -> float:
        """Return the share of power for a reading; the same reading again changes nothing."""
        last, self._last = self._last, reading
        if last is not None and reading.taken_s <= last.taken_s:
            return self._share
        wanting_K = self.set_degC - reading.bath_degC
        if abs(wanting_K) > self._rule.band_K:
            self._pid = None
            self._share = 1.0 if wanting_K > 0 else 0.0
            return self._share
        step_s = min(LONGEST_STEP_S, reading.taken_s - last.taken_s) if last is not None else 1.0
        self._share = self._control()(reading.bath_degC, dt=step_s) or 0.0
        return self._share

    def _control(self) -> PID:
        if self._pid is None:
            from simple_pid import PID

            gain = 1.0 / self._rule.band_K
            self._pid = PID(
                gain,
                gain / self._rule.make_up_s,
                setpoint=self.set_degC,
                sample_time=None,
                output_limits=(0.0, 1.0),
                time_fn=self._now_s,
            )
        return self._pid
