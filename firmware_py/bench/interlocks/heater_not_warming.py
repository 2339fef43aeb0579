"""Interlock 4: no heat into water that does not warm as it should."""

from __future__ import annotations

from firmware_py.bench.warmth.heat_facts import HeatSeen, warmed_by_room_K
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
        self._from: Reading | None = None
        self._before: Reading | None = None
        self._room_K = 0.0
        self._seen_on_s = 0.0

    def begin(self) -> None:
        """Begin the count anew."""
        self._from = self._before = None

    def look(self, seen: HeatSeen) -> str:
        """Return why the heater must be off now; nothing where it may be on."""
        word = seen.word
        if seen.is_on:
            self._seen_on_s = seen.now_s
        elif seen.now_s - self._seen_on_s > BREAK_S:
            self.begin()
        if not isinstance(word, Reading) or not seen.is_on:
            return ""
        before, self._before = self._before, word
        if self._from is None or before is None:
            self._start(word)
            return ""
        self._room_K += warmed_by_room_K(before, word, seen.room_degC)
        return self._judged(self._from, word)

    def _judged(self, start: Reading, word: Reading) -> str:
        risen_K = word.bath_degC - start.bath_degC
        if risen_K - self._room_K >= self._warms_by_K:
            self._start(word)
            return ""
        if risen_K <= -FALLS_BY_K:
            return f"its probe has fallen by {-risen_K:.1f} K under full heat: is it out of the water?"
        if word.taken_s < start.taken_s + self._warms_within_s:
            return ""
        return (
            f"{self._warms_within_s / 60:g} min of heat have changed its water by {risen_K:+.1f} K: "
            "is the heater alive, under water, and the probe in the same water?"
        )

    def _start(self, word: Reading) -> None:
        self._from, self._room_K = word, 0.0
