"""What a sounder is: something that plays a pattern of beeps."""

from __future__ import annotations

from typing import Protocol

from firmware_py.facts.tunes import Tune


class Sounder(Protocol):
    """A beeper. Playing never waits: a new pattern cuts off one that is no more urgent, or follows it."""

    name: str

    def play(self, tune: Tune) -> None:
        """Start the pattern called ``tune``."""
        ...

    def close(self) -> None:
        """Fall silent and give the line back."""
        ...
