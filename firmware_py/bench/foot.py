"""How a foot speaks: from edges of the switch to a short or a long press."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from firmware_py.devices.foot_switch import FootEdge

# "held": it has been down for so long that coming up now is a long press.
Press = Literal["short", "long", "held"]

# Longer than anyone means to stand on it: the switch is stuck. Common practice, no source.
STUCK_S = 10.0


@dataclass(frozen=True, slots=True)
class FootRule:
    """``long_press_s`` [s] parts a short press from a long one; after ``stuck_s`` [s] the switch is stuck."""

    long_press_s: float = 0.8
    stuck_s: float = STUCK_S


class Foot:
    """The grammar of one foot switch.

    Where a long press means something, a short one counts when the foot comes up; where it means nothing,
    a press counts the moment the foot goes down. At the lamp a long press counts as soon as it has lasted,
    for it puts the light out; at the trays (``at_lift``) when the foot comes up, for it may pull a plate, and
    a switch that is stuck must not. A switch that stays down is said to be stuck, and nothing counts until it
    has come up again.
    """

    def __init__(self, rule: FootRule) -> None:
        self._rule = rule
        self._down_at_s: float | None = None
        self._spent = False
        self._told_held = False
        self.stuck = False

    @property
    def is_down(self) -> bool:
        """Get whether the foot is down, as far as its edges tell."""
        return self._down_at_s is not None

    def edge(self, edge: FootEdge, *, long_means: bool) -> Press | None:
        """Take in an edge; return the press that it completes, if any."""
        if edge.down:
            if self._down_at_s is not None:
                return None
            self._down_at_s = edge.at_s
            self._told_held = False
            self._spent = not long_means
            return "short" if self._spent else None
        down_at_s, self._down_at_s = self._down_at_s, None
        was_stuck, self.stuck = self.stuck, False
        if down_at_s is None or self._spent or was_stuck or edge.lost:
            return None
        held_s = edge.at_s - down_at_s
        if held_s >= self._rule.stuck_s:
            return None
        return "long" if held_s >= self._rule.long_press_s else "short"

    def next_due_s(self, *, holds: bool = False) -> float | None:
        """Return the moment [boot s] at which the foot, if it stays down, will mean something more.

        While it ``holds`` something by staying down, it can not get stuck.
        """
        if self._down_at_s is None or self.stuck or (holds and self._spent):
            return None
        waits = self._spent or self._told_held
        return self._down_at_s + (self._rule.stuck_s if waits else self._rule.long_press_s)

    def advance(self, now_s: float, *, holds: bool = False, at_lift: bool = False) -> Press | None:
        """Return "long" (``at_lift``: "held") once it was down for long enough; notice a stuck switch."""
        if self._down_at_s is None:
            return None
        # Moments are compared, not durations: a difference may round to just below its limit for ever.
        if now_s >= self._down_at_s + self._rule.stuck_s and not holds:
            self.stuck = True
        if self._spent or self._told_held or now_s < self._down_at_s + self._rule.long_press_s:
            return None
        self._told_held = at_lift
        self._spent = not at_lift
        return "held" if at_lift else "long"
