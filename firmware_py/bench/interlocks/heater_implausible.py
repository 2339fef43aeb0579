"""Interlock 4: no heat by a reading that water can not have, or that jumps."""

from __future__ import annotations

from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import Reading

# Liquid water that anybody wants warmed, with room for a summer shed. Common practice, no source.
COLDEST_degC = 0.5
WARMEST_degC = 50.0
# Litres of water do not change by more than this from one second to the next, whatever heats them:
# 3 kW in 3 l give 0.24 K/s. Worked.
JUMP_K = 1.0
FASTEST_K_PER_S = 0.25
# After a jump the readings must lie quiet for so long before they count again. Common practice, no source.
QUIET_S = 10.0


class ImplausibleWatch:
    """Keeps the heater off while a reading is impossible, and for `QUIET_S` after one that jumped."""

    name = "implausible reading"

    def __init__(self) -> None:
        self._before: Reading | None = None
        self._jumped_s: float | None = None

    def begin(self) -> None:
        """Forget nothing: a jump is a jump."""

    def look(self, seen: HeatSeen) -> str:
        """Return why the heater must be off now; nothing where it may be on."""
        word = seen.word
        if not isinstance(word, Reading):
            return ""
        if self._jumps(word):
            self._jumped_s = word.taken_s
        self._before = word
        if not COLDEST_degC <= word.bath_degC <= WARMEST_degC:
            return f"its probe reads {word.bath_degC:.1f} degC, which its water can not have"
        if self._jumped_s is not None and seen.now_s < self._jumped_s + QUIET_S:
            return f"its probe jumped, to {word.bath_degC:.1f} degC"
        return ""

    def _jumps(self, word: Reading) -> bool:
        before = self._before
        if before is None:
            return False
        allowed_K = max(JUMP_K, FASTEST_K_PER_S * (word.taken_s - before.taken_s))
        return abs(word.bath_degC - before.bath_degC) > allowed_K
