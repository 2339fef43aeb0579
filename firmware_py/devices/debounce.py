"""Taking the bounce out of a switch: from raw edges to the steps of a foot."""

from __future__ import annotations

import math

from firmware_py.devices.foot_switch import FootEdge

# Contacts of foot switches settle within some milliseconds. Common practice, no source.
SETTLE_S = 0.02


class Debounce:
    """A level counts once it has stood still for ``settle_s`` [s], and is dated by its *first* edge.

    So a press is never dated late by its own bounce, and a disturbance shorter than ``settle_s`` is no
    press at all. A switch that is down at the start (``down``) stays unheard until it has been released.
    """

    def __init__(self, *, down: bool, settle_s: float = SETTLE_S) -> None:
        self._settle_s = settle_s
        self._settled_down = down
        self._down = down
        self._heard = not down
        self._first_s = 0.0
        self._last_s = -math.inf

    @property
    def is_down(self) -> bool:
        """Get the settled level."""
        return self._settled_down

    @property
    def is_heard(self) -> bool:
        """Get whether the press that goes on, if any, has been told."""
        return self._heard

    def raw(self, *, down: bool, at_s: float) -> FootEdge | None:
        """Take in a raw edge at ``at_s`` [boot s]; return the step that was settled before it, if any."""
        settled = self.settle(at_s)
        if not self._is_moving:
            self._first_s = at_s
        self._down = down
        self._last_s = at_s
        return settled

    def next_due_s(self) -> float:
        """Return when [boot s] the level will have settled; infinite if nothing moves."""
        return self._last_s + self._settle_s if self._is_moving else math.inf

    def settle(self, now_s: float) -> FootEdge | None:
        """Return the step that has settled by ``now_s`` [boot s], if any."""
        if not self._is_moving or now_s < self._last_s + self._settle_s:
            return None
        self._last_s = -math.inf
        if self._down == self._settled_down:
            return None
        self._settled_down = self._down
        was_heard, self._heard = self._heard, True
        return FootEdge(self._down, self._first_s) if was_heard else None

    @property
    def _is_moving(self) -> bool:
        return self._last_s != -math.inf
