"""By how much the heater's water has warmed, and how much of that a warmer room may have given it."""

from __future__ import annotations

from firmware_py.devices.probe import Reading

# A jacket left to itself comes to its room with a time constant of half an hour or more. Own judgement.
ROOM_PER_S = 1 / 1800


class WaterRise:
    """Water followed from one reading, ``start``, to the last, ``word``."""

    def __init__(self, start: Reading) -> None:
        self.start = self.word = start
        self._by_room_K = 0.0

    @property
    def risen_K(self) -> float:
        """Get by how much [K] it is warmer than at the start."""
        return self.word.bath_degC - self.start.bath_degC

    @property
    def heated_K(self) -> float:
        """Get what is left of that [K] without what the room may have given, at the most."""
        return self.risen_K - self._by_room_K

    @property
    def lasted_s(self) -> float:
        """Get how long [s] it has been followed."""
        return self.word.taken_s - self.start.taken_s

    def goes_on(self, word: Reading, room_degC: float | None) -> None:
        """Take in the next reading, and the room [degC] where a probe hangs in it."""
        if room_degC is not None:
            warmer_K = max(0.0, room_degC - word.bath_degC)
            self._by_room_K += warmer_K * ROOM_PER_S * (word.taken_s - self.word.taken_s)
        self.word = word
