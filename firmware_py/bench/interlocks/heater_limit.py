"""Interlock 4: no heat above the limit."""

from __future__ import annotations

from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import Reading

# The limit itself is a setting, `limit` of [heater], and can not be set above this: gelatin softens from
# about 30 degC and melts soon after; common practice, no source.
HIGHEST_LIMIT_degC = 40.0


class LimitWatch:
    """Puts the heater off, until a person acts, when any water that it warms is above the limit."""

    name = "above the limit"

    def __init__(self, limit_degC: float) -> None:
        self._limit_degC = min(limit_degC, HIGHEST_LIMIT_degC)

    def begin(self) -> None:
        """Forget nothing: what is too warm is looked at again."""

    def look(self, seen: HeatSeen) -> str:
        """Return why the heater must be off now; nothing where it may be on."""
        own = [seen.word] if isinstance(seen.word, Reading) else []
        warmest = max((one.bath_degC for one in (*own, *seen.others)), default=self._limit_degC)
        if warmest <= self._limit_degC:
            return ""
        return f"the water is at {warmest:.1f} degC, above its limit of {self._limit_degC:g} degC"
