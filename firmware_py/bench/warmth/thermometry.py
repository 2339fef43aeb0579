"""Interlock 7: a missing or bad probe stops no timer; a tray is believed to go on as it was going."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass

from firmware_py.craft.temperature import Drift, fit_drift
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.events.run import TemperatureSource

# A reading older than this is no longer a reading. Common practice, no source: five missed seconds.
STALE_S = 5.0
# How far back the drift of the bath is fitted.
RECENT_S = 120.0
# A water bath of a tray can not change faster than this; a larger jump is a fault until it stays.
JUMP_K = 2.0
JUMPS_BELIEVED_AFTER = 5
# A tray left to itself changes by a fraction of this; a probe that drifts, or hot water poured in, by more.
# Common practice, no source.
RUSH_K_PER_MIN = 0.75
RUSH_OVER_S = 60.0
# What a person reads off a glass thermometer. Common practice, no source.
HAND_TOLERANCE_K = 0.5
# With no thermometer at all the reference temperature is assumed, and this is how little that is worth.
ASSUMED_TOLERANCE_K = 3.0


@dataclass(frozen=True, slots=True)
class Belief:
    """The temperature to reckon with: how sure, since when it is known, and by what source."""

    bath_degC: float
    tolerance_K: float
    source: TemperatureSource
    read_at_s: float


class Thermometer:
    """The memory of one tray's temperature; ``hear`` what a probe says, ``told`` what a person says.

    ``surroundings_degC`` [degC] is what the tray stands in, the jacket or the room, where that is measured.
    """

    def __init__(self, name: str) -> None:
        self.name = name
        self.trouble = ""
        self.surroundings_degC: float | None = None
        self._recent: deque[Reading] = deque()
        self._jumps = 0
        self._drift: Drift | None = None

    @property
    def last(self) -> Reading | None:
        """Get the last reading that was believed."""
        return self._recent[-1] if self._recent else None

    def hear(self, heard: Reading | NoReading) -> Reading | None:
        """Take in a probe's word; return it if it is believed."""
        if isinstance(heard, NoReading):
            self.trouble = heard.why
            return None
        if self._is_a_jump(heard):
            self._jumps += 1
            self.trouble = f"jumped to {heard.bath_degC:.1f} degC"
            return None
        if self._jumps >= JUMPS_BELIEVED_AFTER:
            self._recent.clear()
        self._jumps = 0
        self.trouble = ""
        self._remember(heard)
        return heard

    def told(self, bath_degC: float, now_s: float) -> Reading:
        """Take in a temperature read by hand."""
        reading = Reading(bath_degC, HAND_TOLERANCE_K, now_s, "hand")
        if self.last is not None and self.last.source != "hand":
            self._recent.clear()
        self._remember(reading)
        return reading

    def distrust(self) -> None:
        """Forget every reading: whoever gave them is not believed any more."""
        self._recent.clear()
        self._drift = None
        self._jumps = 0
        self.trouble = ""

    def remember(self, readings: Iterable[Reading]) -> None:
        """Take in readings from before a restart, unless newer ones are known."""
        if self.last is None:
            for reading in readings:
                self._remember(reading)

    def believed(self, now_s: float) -> Belief | None:
        """Return the temperature to believe now, or None if none was ever known."""
        last = self.last
        if last is None:
            return None
        if not self.is_stale(now_s):
            return Belief(last.bath_degC, last.tolerance_K, last.source, last.taken_s)
        bath_degC, spread_K = self.drift().at(now_s)
        return Belief(bath_degC, math.hypot(spread_K, last.tolerance_K), "trend", last.taken_s)

    def is_stale(self, now_s: float) -> bool:
        """Return whether the last reading is too old to be one."""
        return now_s >= self.stale_at_s

    @property
    def stale_at_s(self) -> float:
        """Get the moment [boot s] from which the last reading is none any more."""
        return -math.inf if self.last is None else self.last.taken_s + STALE_S

    def rush_K_per_min(self) -> float | None:
        """Return how fast the bath seems to change [K/min] where no tray does so by itself, else None."""
        if len(self._recent) < 2:
            return None
        first, last = self._recent[0], self._recent[-1]
        lasted_s = last.taken_s - first.taken_s
        if lasted_s < RUSH_OVER_S:
            return None
        rush = (last.bath_degC - first.bath_degC) / lasted_s * 60.0
        return rush if abs(rush) > RUSH_K_PER_MIN else None

    def trend_K_per_min(self, now_s: float) -> float | None:
        """Return where the bath is going [K/min], or None with too little to go by."""
        if len(self._recent) < 2 or self._recent[-1].taken_s - self._recent[0].taken_s < 10.0:
            return None
        drift = self.drift()
        return drift.at(now_s + 30.0)[0] - drift.at(now_s - 30.0)[0]

    def drift(self) -> Drift:
        """Return the drift fitted to the recent readings."""
        if self._drift is None:
            readings = [(r.taken_s, r.bath_degC) for r in self._recent]
            self._drift = fit_drift(readings, self.surroundings_degC)
        return self._drift

    def _is_a_jump(self, heard: Reading) -> bool:
        last = self.last
        if last is None or last.source == "hand" or self._jumps >= JUMPS_BELIEVED_AFTER:
            return False
        allowed_K = JUMP_K * max(1.0, (heard.taken_s - last.taken_s) / STALE_S)
        return abs(heard.bath_degC - last.bath_degC) > allowed_K

    def _remember(self, reading: Reading) -> None:
        if self.last is not None and self.last.source != reading.source:
            self._recent.clear()
        self._recent.append(reading)
        while reading.taken_s - self._recent[0].taken_s > RECENT_S:
            self._recent.popleft()
        self._drift = None
