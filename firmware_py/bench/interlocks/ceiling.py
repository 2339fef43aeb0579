"""Interlock 3: no exposure without a ceiling. The switchboard enforces it; this watch sees that it did."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.craft.refusal import Refused

# What a timed exposure may overrun by before its ceiling ends it: the switchboard is exact to microseconds.
MARGIN_S = 1.0
# The switchboard's word that the lamp is off comes in milliseconds; later than this, something is wrong.
WORD_WITHIN_S = 1.0


def ceiling_for(on_time_s: float | None, longest_s: float) -> float:
    """Return the ceiling [s] of an exposure of ``on_time_s`` [s], or of one that a foot ends (None).

    Raises Refused for one longer than the lamp may ever be on, ``longest_s`` [s].
    """
    if on_time_s is None:
        return longest_s
    if on_time_s > longest_s:
        raise Refused(
            f"the lamp would be on for {on_time_s:.1f} s",
            where="interlock 3",
            allowed=f"up to {longest_s:g} s (`longest_on` of the relay); bring the lamp nearer",
        )
    return min(on_time_s + MARGIN_S, longest_s)


@dataclass(slots=True)
class CeilingWatch:
    """Waits for the word that a lit lamp has gone off, and says when it is overdue.

    An exposure is told with its ceiling when it is announced and again when it begins.
    """

    exposure: str | None = None
    due_s: float | None = None

    def expect(self, exposure: str, from_s: float, ceiling_s: float) -> None:
        """Expect the end of ``exposure`` at the latest ``ceiling_s`` [s] after ``from_s`` [boot s]."""
        self.exposure, self.due_s = exposure, from_s + ceiling_s + WORD_WITHIN_S

    def settled(self) -> None:
        """Expect nothing more."""
        self.exposure = self.due_s = None

    def overdue(self, now_s: float) -> str | None:
        """Return the exposure whose end should have been heard of by ``now_s`` [boot s]; each only once."""
        if self.due_s is None or now_s < self.due_s:
            return None
        self.due_s = None
        return self.exposure
