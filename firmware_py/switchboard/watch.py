"""When the guardian has to act: a controller or a switchboard that ended, or that shows no more life."""

from __future__ import annotations

import math
from dataclasses import dataclass

# A switchboard whose controller has ended makes the lines safe by itself and ends; that takes milliseconds.
LEAVE_S = 0.2
# It also ends by itself after its own silence; the guardian is the second net and comes this much later.
LATER_S = 0.2


@dataclass(slots=True)
class Watch:
    """The two that are watched, told every sign of life; moments on the boot clock [s].

    ``silence_s`` [s] is how long a switchboard keeps its relays on without a word from its controller.
    Nothing is judged before `begin`: until then no relay can be on.
    """

    silence_s: float
    began: bool = False
    controller_s: float = math.inf
    switchboard_s: float = math.inf
    controller_ended_s: float | None = None
    switchboard_ended_s: float | None = None

    def begin(self, now_s: float) -> None:
        """Judge from now on."""
        self.began, self.controller_s, self.switchboard_s = True, now_s, now_s

    def is_over(self) -> bool:
        """Return whether the controller ended before there was anything to guard."""
        return not self.began and self.controller_ended_s is not None

    def next_due_s(self) -> float:
        """Return the moment [boot s] at which something is lost without a sign of life; infinite if none."""
        return min(moment_s for moment_s, _ in self._losses())

    def lost(self, now_s: float) -> str:
        """Return what is lost at ``now_s`` [boot s], in words; nothing while all is well."""
        moment_s, words = min(self._losses())
        return words if moment_s <= now_s else ""

    def _losses(self) -> list[tuple[float, str]]:
        if not self.began:
            return [(math.inf, "")]
        patience_s = self.silence_s + LATER_S
        losses = [
            (self.switchboard_s + patience_s, f"nothing from the switchboard for {patience_s:g} s"),
            (self.controller_s + patience_s, f"nothing from the controller for {patience_s:g} s"),
        ]
        if self.switchboard_ended_s is not None:
            losses.append((self.switchboard_ended_s, "the switchboard ended"))
        if self.controller_ended_s is not None:
            losses.append((self.controller_ended_s + LEAVE_S, "the controller ended"))
        return losses
