"""Interlock 5: a foot switch that was down at the start, stays down, or is gone counts for nothing."""

from __future__ import annotations

from dataclasses import dataclass

# How long it may stay down is the foot rule's `stuck_s`; the devices give no edge for a press from before.
FOUND_DOWN = "The foot switch was down at the start: it counts once it has been released"
STAYS_DOWN = "The foot switch stays down: it counts again once it is released"
UNPLUGGED = "The foot switch is unplugged: go on by the keys, or plug it in again"


@dataclass(slots=True)
class HeldFoot:
    """What has to be said about a foot switch that is held, or gone."""

    found_down: bool = False
    is_there: bool = True

    def begins(self, *, is_down: bool) -> None:
        """Take in how the switch was found when the bench began to listen."""
        self.found_down = is_down

    def looks(self, *, is_down: bool, is_there: bool) -> None:
        """Take in how the switch is now: a release ends what it was found with."""
        self.found_down = self.found_down and is_down
        self.is_there = is_there

    def words(self, *, is_stuck: bool) -> str:
        """Return what to say, or nothing."""
        if not self.is_there:
            return UNPLUGGED
        if self.found_down:
            return FOUND_DOWN
        return STAYS_DOWN if is_stuck else ""
