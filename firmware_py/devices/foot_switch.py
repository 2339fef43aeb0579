"""What a foot switch is: edges with the time at which they happened."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class FootEdge:
    """The foot went down, or came up, at ``at_s`` [boot s] (already corrected for the debounce).

    ``lost`` is the end of a press whose switch was unplugged: it puts a light out, and means nothing else.
    """

    down: bool
    at_s: float
    lost: bool = False


class FootSwitch(Protocol):
    """A momentary switch.

    A switch that is down when listening begins gives no edge for that press, nor for its end; ``is_down``
    tells of it. Edges come down, up, down, up.
    """

    name: str

    @property
    def is_down(self) -> bool:
        """Get whether the foot is on the switch."""
        ...

    @property
    def is_there(self) -> bool:
        """Get whether the switch is connected, as far as that can be known."""
        ...

    def listen(self, heard: Callable[[FootEdge], None]) -> None:
        """Call ``heard`` with every debounced edge, from whatever thread saw it."""
        ...

    def close(self) -> None:
        """Stop listening and give the line back."""
        ...
