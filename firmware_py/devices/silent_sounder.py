"""A sounder without a sound: for benches that have none, and for rehearsals."""

from __future__ import annotations

from firmware_py.devices.clock import Clock
from firmware_py.facts.tunes import Tune


class SilentSounder:
    """Plays nothing, and remembers the last tunes it was asked for; with a clock also when."""

    KEPT = 1000

    def __init__(self, name: str, clock: Clock | None = None) -> None:
        self.name = name
        self.played: list[Tune] = []
        self.moments: list[tuple[float, Tune]] = []
        self._clock = clock

    def play(self, tune: Tune) -> None:
        """Remember the tune."""
        self.played = [*self.played[-self.KEPT + 1 :], tune]
        if self._clock is not None:
            self.moments = [*self.moments[-self.KEPT + 1 :], (self._clock.now_s(), tune)]

    def close(self) -> None:
        """Change nothing: it is silent already."""
