"""Interlock 4: no heat by an old reading."""

from __future__ import annotations

from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import Reading

# A probe is read once a second; five missed readings are none any more. Common practice, no source.
STALE_S = 5.0


class StaleWatch:
    """Keeps the heater off while its probes have given no reading for `STALE_S`; it goes on by itself."""

    name = "stale reading"

    def __init__(self) -> None:
        self._last_s: float | None = None

    def begin(self) -> None:
        """Forget nothing: an old reading stays old."""

    def look(self, seen: HeatSeen) -> str:
        """Return why the heater must be off now; nothing where it may be on."""
        if isinstance(seen.word, Reading):
            self._last_s = seen.word.taken_s
        if self._last_s is None:
            return "no reading of its water has come yet"
        if seen.now_s >= self._last_s + STALE_S:
            why = "" if isinstance(seen.word, Reading) or seen.word is None else f" ({seen.word.why})"
            return f"its probe has said nothing for {STALE_S:g} s{why}"
        return ""

    def due_s(self) -> float | None:
        """Return when [boot s] the last reading will be too old."""
        return None if self._last_s is None else self._last_s + STALE_S
