"""A sounder without a sound: for benches that have none, and for rehearsals."""

from __future__ import annotations

from firmware_py.devices.sounder import Tune


class SilentSounder:
    """Plays nothing, and remembers the last tunes it was asked for."""

    KEPT = 1000

    def __init__(self, name: str) -> None:
        self.name = name
        self.played: list[Tune] = []

    def play(self, tune: Tune) -> None:
        """Remember the tune."""
        self.played = [*self.played[-self.KEPT + 1 :], tune]

    def close(self) -> None:
        """Change nothing: it is silent already."""
