"""Interlock 4: no heat into water that does not warm as it should."""

from __future__ import annotations

from firmware_py.bench.interlocks.water_rise import WaterRise
from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import Reading

# By how much the water must have warmed in which time of unbroken heat are settings, `warms_by` and
# `warms_within`: a dead heater, a heater out of the water, or a probe that lies elsewhere. A break of the
# heat shorter than this (a relay asked again late) does not begin the count anew.
BREAK_S = 3.0
# Heated water does not grow colder by this much: the probe is out of it, or ice went in. Own judgement.
FALLS_BY_K = 0.75


class NotWarmingWatch:
    """Puts the heater off, until a person acts, when full heat has not warmed the water in its time."""

    name = "not warming"

    def __init__(self, warms_by_K: float, warms_within_s: float) -> None:
        self._warms_by_K = warms_by_K
        self._warms_within_s = warms_within_s
        self._rise: WaterRise | None = None

    def begin(self) -> None:
        """Begin the count anew."""
        self._rise = None

    def look(self, seen: HeatSeen) -> str:
        """Return why the heater must be off now; nothing where it may be on."""
        if not seen.is_on:
            if seen.now_s - seen.since_s > BREAK_S:
                self.begin()
            return ""
        if not isinstance(seen.word, Reading):
            return ""
        if self._rise is None:
            self._rise = WaterRise(seen.word)
        self._rise.goes_on(seen.word, seen.room_degC)
        return self._judged(self._rise)

    def _judged(self, rise: WaterRise) -> str:
        if rise.heated_K >= self._warms_by_K:
            self._rise = WaterRise(rise.word)
            return ""
        if rise.risen_K <= -FALLS_BY_K:
            return f"its probe has fallen by {-rise.risen_K:.1f} K under full heat: is it out of the water?"
        if rise.lasted_s < self._warms_within_s:
            return ""
        return (
            f"{self._warms_within_s / 60:g} min of heat have changed its water by {rise.risen_K:+.1f} K: "
            "is the heater alive, under water, and the probe in the same water?"
        )
