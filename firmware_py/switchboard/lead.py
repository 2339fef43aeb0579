"""How much before its deadline a throw must begin, learned from the throws that were measured."""

from __future__ import annotations

# One measurement moves the lead by no more than this: it follows the usual delay and ignores a wild one.
STEP_S = 0.00005
# No pin library is slower by nature; a longer delay is the machine's, and comes and goes.
LONGEST_S = 0.001


class Lead:
    """The time [s] between beginning a throw and the line moving: the running median of what was measured."""

    def __init__(self) -> None:
        self.seconds = 0.0

    def learn(self, late_s: float) -> None:
        """Take in how late [s] (negative: early) a line moved that was thrown with this lead."""
        step_s = max(-STEP_S, min(late_s, STEP_S))
        self.seconds = max(0.0, min(self.seconds + step_s, LONGEST_S))
