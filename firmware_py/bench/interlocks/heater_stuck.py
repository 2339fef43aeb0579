"""Interlock 4: water that warms while the heater is off means a relay that sticks."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from firmware_py.bench.interlocks.heater_implausible import FASTEST_K_PER_S, JUMP_K
from firmware_py.bench.interlocks.water_rise import ROOM_PER_S
from firmware_py.bench.warmth.heat_facts import HeatSeen
from firmware_py.devices.probe import Reading

# What a heater still gives off after it was put out, and the lag of the probe. Common practice, no source.
SETTLE_S = 90.0
# Water that rises by so much in so long without heat is heated, the share of a warm room and the probe's own
# jitter taken off. Own judgement.
RISES_BY_K = 0.75
WITHIN_S = 300.0
# So long a rise waits before it is called a stuck relay: hot water poured in shows itself within that.
# Common practice, no source.
CONFIRM_S = 20.0


@dataclass(frozen=True, slots=True)
class _Seen:
    """A reading ``taken_s`` [s] of water that would have ``level_degC`` without what the room gave it.

    It fell by ``fell_K`` [K] from the reading before it.
    """

    taken_s: float
    bath_degC: float
    level_degC: float
    fell_K: float


class StuckWatch:
    """Puts the heater off, until a person acts, and says so, when water warms without it.

    A step that the implausible-reading watch lets pass is never taken for poured water: a probe may jitter by
    as much, and a count that began anew with each would never end. The jitter raises the limit instead. So
    a relay that warms the water by `RISES_BY_K` and twice `JUMP_K` in `WITHIN_S` is found under any jitter.
    """

    name = "relay stuck"

    def __init__(self) -> None:
        self._seen: deque[_Seen] = deque()
        self._risen: _Seen | None = None  # the bottom of a rise that waits to be confirmed
        self._risen_s = 0.0
        self._settles_s = float("-inf")

    def begin(self) -> None:
        """Begin the count anew."""
        self._seen.clear()
        self._risen = None

    def look(self, seen: HeatSeen) -> str:
        """Return why the heater must be off now; nothing where it may be on."""
        if seen.is_on or seen.now_s < seen.since_s + SETTLE_S:
            self.begin()
            return ""
        word = seen.word
        if not isinstance(word, Reading) or (self._seen and word.taken_s <= self._seen[-1].taken_s):
            return self._judged()
        if any(_is_poured(before, word) for before in self._seen):
            self.begin()
            self._settles_s = word.taken_s + SETTLE_S
        if word.taken_s >= self._settles_s:
            self._record(word, seen.room_degC)
        return self._judged()

    def _record(self, word: Reading, room_degC: float | None) -> None:
        given_K = fell_K = 0.0
        if self._seen:
            last = self._seen[-1]
            given_K, fell_K = last.bath_degC - last.level_degC, last.bath_degC - word.bath_degC
            if room_degC is not None:
                warmer_K = max(0.0, room_degC - word.bath_degC)
                given_K += warmer_K * ROOM_PER_S * (word.taken_s - last.taken_s)
        self._seen.append(_Seen(word.taken_s, word.bath_degC, word.bath_degC - given_K, fell_K))
        while self._seen[0].taken_s < word.taken_s - WITHIN_S:
            self._seen.popleft()

    def _judged(self) -> str:
        if not self._seen:
            return ""
        last, limit_K = self._seen[-1], RISES_BY_K + self._jitter_K
        if self._risen is not None and last.taken_s > self._risen_s + WITHIN_S:
            self._risen = None
        bottom = self._risen or min(self._seen, key=lambda one: one.level_degC)
        heated_K = last.level_degC - bottom.level_degC
        if heated_K < limit_K:
            return ""
        if self._risen is None:
            self._risen, self._risen_s = bottom, last.taken_s
        if last.taken_s < self._risen_s + CONFIRM_S:
            return ""
        return (
            f"its water has warmed by {heated_K:.1f} K while it was off: PULL THE HEATER'S PLUG, "
            "the relay may stick; unless warm water was poured in, or its probe drifts"
        )

    @property
    def _jitter_K(self) -> float:
        """Get the greatest fall [K] from one reading to the next: water does not cool so."""
        return min(JUMP_K, max(0.0, *(one.fell_K for one in self._seen)))


def _is_poured(before: _Seen, word: Reading) -> bool:
    """Return whether the water is warmer than any heater and any jitter of the probe can have made it."""
    return word.bath_degC - before.bath_degC > JUMP_K + FASTEST_K_PER_S * (word.taken_s - before.taken_s)
