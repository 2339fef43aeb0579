"""The light that the paper has really had, by a sensor beside it: when an exposure has its dose.

For long exposures, in which a lamp may sag or brighten. The sensor's word only decides when the lamp is told
to go off; the time ceiling stays the switchboard's, and without a word of the sensor the time decides.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from firmware_py.bench.interlocks.ceiling import MARGIN_S
from firmware_py.devices.light_sensor import Light, NoLight

# A level beyond this many times full light is no lamp but a fault. Own judgement.
MOST_LEVEL = 5.0


@dataclass(frozen=True, slots=True)
class DoseRule:
    """Exposures of ``from_s`` [s of full light] or more end by dose.

    ``full`` is what the sensor shows in the light that the times are told for, ``dark`` without the lamp. The
    lamp may be on for ``ceiling_part`` times the time it should need. A sensor silent for ``gap_s`` [s] is
    not waited for.
    """

    full: float
    dark: float = 0.0
    from_s: float = 20.0
    ceiling_part: float = 1.5
    gap_s: float = 3.0

    def level(self, light: Light) -> float | None:
        """Return the light of 1 for full, None for what no lamp gives."""
        level = (light.shown - self.dark) / (self.full - self.dark)
        return max(0.0, level) if -0.2 <= level <= MOST_LEVEL else None

    def ceiling_s(self, on_time_s: float, longest_s: float) -> float:
        """Return how long [s] the lamp may be on, never beyond ``longest_s`` [s]."""
        return min(self.ceiling_part * on_time_s + MARGIN_S, longest_s)


class DoseMeter:
    """Adds up what the sensor shows while the lamp is on, in seconds of full light.

    Between two readings the light is the mean of both; after the last one it stays as it was.
    """

    def __init__(self, rule: DoseRule | None, lag_s: float) -> None:
        self._rule = rule
        self._lag_s = lag_s
        self._heard_s = -math.inf
        self._wanted_s: float | None = None
        self._from_s: float | None = None
        self._level = 1.0
        self._is_first = True
        self._sum_s = 0.0
        self.trouble = "no word of the light sensor yet"

    @property
    def is_measuring(self) -> bool:
        """Get whether an exposure that ends by dose goes on."""
        return self._wanted_s is not None

    def rule_for(self, wanted_s: float | None, now_s: float) -> DoseRule | None:
        """Return the rule by which an exposure of ``wanted_s`` [s of full light] ends, None where by time."""
        rule = self._rule
        if rule is None or wanted_s is None or wanted_s < rule.from_s:
            return None
        return rule if now_s < self._heard_s + rule.gap_s else None

    def is_wanted_for(self, wanted_s: float | None) -> bool:
        """Return whether such an exposure should end by dose, if only the sensor spoke."""
        return self._rule is not None and wanted_s is not None and wanted_s >= self._rule.from_s

    def announce(self, wanted_s: float | None) -> None:
        """Take in that an exposure is to end at this dose [s of full light]; None: by time."""
        self._wanted_s, self._from_s = wanted_s, None
        self._sum_s, self._level, self._is_first = 0.0, 1.0, True

    def begin(self, on_s: float) -> None:
        """Take in that the lamp was lit at ``on_s`` [boot s]."""
        if self._wanted_s is not None:
            self._from_s = on_s

    def heard(self, word: Light | NoLight) -> None:
        """Take in what the sensor shows."""
        level = self._rule.level(word) if self._rule is not None and isinstance(word, Light) else None
        if level is None:
            self.trouble = word.why if isinstance(word, NoLight) else "it shows what no lamp gives"
            return
        self.trouble, self._heard_s = "", word.taken_s
        if self._from_s is None or word.taken_s <= self._from_s:
            return
        if self._is_first:
            # What a start loses, it loses of this lamp's light.
            self._sum_s, self._is_first = level * (word.taken_s - self._from_s - self._lag_s), False
        else:
            self._sum_s += (self._level + level) / 2 * (word.taken_s - self._from_s)
        self._level, self._from_s = level, word.taken_s

    def dose_s(self, now_s: float) -> float:
        """Return the seconds of full light [s] so far; what a start loses is taken off."""
        if self._from_s is None:
            return 0.0
        lost_s = self._lag_s if self._is_first else 0.0
        return self._sum_s + self._level * (now_s - self._from_s - lost_s)

    def due_s(self) -> float | None:
        """Return when [boot s] the dose is reached at the light of now; None where nothing is measured."""
        if self._wanted_s is None or self._from_s is None:
            return None
        if self._level <= 0:
            return math.inf
        lost_s = self._lag_s if self._is_first else 0.0
        return self._from_s + lost_s + (self._wanted_s - self._sum_s) / self._level

    def is_blind(self, now_s: float) -> bool:
        """Return whether the sensor has fallen silent in the middle of an exposure."""
        if self._rule is None or self._from_s is None:
            return False
        return now_s >= max(self._heard_s, self._from_s) + self._rule.gap_s

    def is_due(self, now_s: float) -> bool:
        """Return whether the dose is reached."""
        due_s = self.due_s()
        return due_s is not None and now_s >= due_s

    def end(self, off_s: float) -> float | None:
        """Return the dose [s of full light] that the exposure had by ``off_s`` [boot s], None by time.

        Where the sensor said nothing while the lamp was on, nothing was measured.
        """
        dose_s = self.dose_s(off_s) if self.is_measuring and not self._is_first else None
        self._wanted_s = self._from_s = None
        return None if dose_s is None else max(0.0, dose_s)
