"""A foot switch without a switch: moved by a key, a script or a test."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.devices.foot_switch import FootEdge


class KeyedFootSwitch:
    """A foot switch that somebody else moves, with the time at which it moved."""

    def __init__(self, name: str) -> None:
        self.name = name
        self._down = False
        self._heard: Callable[[FootEdge], None] | None = None
        self._armed = True

    @property
    def is_down(self) -> bool:
        """Get whether the foot is on the switch."""
        return self._down

    @property
    def is_there(self) -> bool:
        """Get whether the switch is connected, as far as that can be known."""
        return True

    def move(self, *, down: bool, at_s: float) -> None:
        """Put the foot down, or take it away, at ``at_s`` [boot s]; where it is already changes nothing."""
        if down == self._down:
            return
        self._down = down
        was_armed, self._armed = self._armed, True
        if self._heard is not None and was_armed:
            self._heard(FootEdge(down, at_s))

    def listen(self, heard: Callable[[FootEdge], None]) -> None:
        """Call ``heard`` with every edge; a switch that is down now is not heard until it is released."""
        self._armed = not self._down
        self._heard = heard

    def close(self) -> None:
        """Stop listening."""
        self._heard = None
