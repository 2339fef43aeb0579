"""What several probes in one place say together: the median of those that speak."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from statistics import median

from firmware_py.bench.warmth.thermometry import STALE_S
from firmware_py.devices.probe import NoReading, Reading


class Gathering:
    """The probes of one place. A single one is passed on as it is.

    Of several, the first that speaks carries the word of all: their median, good to the best of their
    tolerances or to half of their spread, whichever is worse. ``quarrel_K`` [K] is the spread where it is
    more than their tolerances allow.
    """

    def __init__(self, probes: Sequence[str]) -> None:
        self._probes = list(probes)
        self._last: dict[str, Reading] = {}
        self.quarrel_K: float | None = None

    def leave_out(self, probe: str) -> None:
        """Forget what a probe said: it is not trusted any more."""
        self._last.pop(probe, None)

    def take(self, probe: str, word: Reading | NoReading) -> Reading | NoReading | None:
        """Take in a probe's word; return what the place says by it, None where another one speaks for it."""
        if len(self._probes) == 1:
            return word
        if isinstance(word, Reading):
            self._last[probe] = word
        fresh = [self._last[p] for p in self._fresh(word.taken_s)]
        if isinstance(word, NoReading):
            return None if fresh else word
        if probe != self._fresh(word.taken_s)[0]:
            return None
        return self._together(fresh, word)

    def _fresh(self, now_s: float) -> list[str]:
        spoken = (probe for probe in self._probes if probe in self._last)
        return [probe for probe in spoken if now_s < self._last[probe].taken_s + STALE_S]

    def _together(self, fresh: Sequence[Reading], word: Reading) -> Reading:
        degrees = [reading.bath_degC for reading in fresh]
        spread_K = max(degrees) - min(degrees)
        allowed_K = sum(sorted(reading.tolerance_K for reading in fresh)[-2:])
        self.quarrel_K = spread_K if len(fresh) > 1 and spread_K > allowed_K else None
        tolerance_K = max(min(reading.tolerance_K for reading in fresh), spread_K / 2)
        return Reading(median(degrees), tolerance_K, word.taken_s, word.source)


class Places:
    """What each place of the bench says, by the probes that lie in it."""

    def __init__(self, probes: Mapping[str, str]) -> None:
        self._probes = probes
        self._gatherings = {
            place: Gathering([probe for probe, at in probes.items() if at == place])
            for place in probes.values()
        }
        self._read_s: dict[str, float] = {}
        self.words: dict[str, Reading | NoReading] = {}

    def take(self, probe: str, word: Reading | NoReading) -> Reading | NoReading | None:
        """Take in a probe's word; return what its place says by it, None where another one speaks for it."""
        place = self._probes[probe]
        if isinstance(word, Reading):
            self._read_s[probe] = word.taken_s
        said = self._gatherings[place].take(probe, word)
        if said is not None:
            self.words[place] = said
        return said

    def leave_out(self, probe: str) -> None:
        """Forget what a probe said: it is not trusted any more."""
        self._gatherings[self._probes[probe]].leave_out(probe)

    def is_alone(self, probe: str) -> bool:
        """Return whether no other probe lies in the same place."""
        return list(self._probes.values()).count(self._probes[probe]) == 1

    def has_fallen_silent(self, probe: str, now_s: float) -> bool:
        """Return whether a probe itself has given no reading for too long."""
        return now_s >= self._read_s.get(probe, -math.inf) + STALE_S

    def reading(self, place: str, now_s: float) -> Reading | None:
        """Return the last word of a place if it is a reading, and fresh."""
        word = self.words.get(place)
        return word if isinstance(word, Reading) and now_s < word.taken_s + STALE_S else None

    def quarrels(self) -> dict[str, float]:
        """Return the places whose probes differ by more than they may, and by how much [K]."""
        return {
            place: gathering.quarrel_K
            for place, gathering in self._gatherings.items()
            if gathering.quarrel_K is not None
        }
