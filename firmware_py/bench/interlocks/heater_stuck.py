"""Interlock 4: water that warms while the heater is off means a relay that sticks."""

from __future__ import annotations

from firmware_py.bench.interlocks.water_rise import WaterRise
from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import Reading

# What a heater still gives off after it was put out, and the lag of the probe. Common practice, no source.
SETTLE_S = 90.0
# Water that rises by so much in so long without heat is heated, the share of a warm room taken off. Own
# judgement.
RISES_BY_K = 0.75
WITHIN_S = 300.0
# Hot water poured in raises the water at once, a heater does not: 3 kW in 3 l give 0.24 K/s. Worked.
POURED_K_PER_S = 0.25


class StuckWatch:
    """Puts the heater off, until a person acts, and says so, when water warms without it."""

    name = "relay stuck"

    def __init__(self) -> None:
        self._rise: WaterRise | None = None

    def begin(self) -> None:
        """Begin the count anew."""
        self._rise = None

    def look(self, seen: HeatSeen) -> str:
        """Return why the heater must be off now; nothing where it may be on."""
        word = seen.word
        if seen.is_on or seen.now_s < seen.since_s + SETTLE_S:
            self.begin()
            return ""
        if not isinstance(word, Reading):
            return ""
        if self._rise is None or self._is_poured(self._rise.word, word):
            self._rise = WaterRise(word)
        self._rise.goes_on(word, seen.room_degC)
        return self._judged(self._rise)

    def _judged(self, rise: WaterRise) -> str:
        if rise.heated_K >= RISES_BY_K:
            return (
                f"its water has warmed by {rise.heated_K:.1f} K while it was off: PULL THE HEATER'S PLUG, "
                "the relay may stick; unless warm water was poured in, or its probe drifts"
            )
        if rise.lasted_s >= WITHIN_S or rise.risen_K < 0.0:
            self._rise = WaterRise(rise.word)
        return ""

    @staticmethod
    def _is_poured(before: Reading, word: Reading) -> bool:
        return abs(word.bath_degC - before.bath_degC) > POURED_K_PER_S * max(
            1.0, word.taken_s - before.taken_s
        )
