"""How a tray cools or warms in a room, told from two readings."""

from __future__ import annotations

import math
from dataclasses import dataclass

from firmware_py.craft.refusal import Refused

READING_TOLERANCE_K = 0.1  # between two readings of one thermometer; common practice, no source
LONGEST_AHEAD_S = 24 * 3600.0


def cooled_degC(start_degC: float, room_degC: float, per_s: float, time_s: float) -> float:
    """Return the temperature [degC] after ``time_s`` [s] of a body that comes to its room by ``per_s`` [1/s].

    Source: Newton's law of cooling.
    """
    return room_degC + (start_degC - room_degC) * math.exp(-per_s * time_s)


@dataclass(frozen=True, slots=True)
class TrayCooling:
    """A tray on its way to the room: T(t) = room + (last - room)·exp(-k·t), t from the last reading.

    ``per_s`` [1/s] is k; ``tolerance_K`` [K] is that of each reading, ``apart_s`` [s] their distance.
    Source: Newton's law of cooling.
    """

    room_degC: float
    first_degC: float
    last_degC: float
    apart_s: float
    tolerance_K: float

    @property
    def per_s(self) -> float:
        """Get k [1/s]. Source: Newton's law of cooling."""
        return -math.log(self._shrinkage) / self.apart_s

    @property
    def time_constant_s(self) -> float:
        """Get the time [s] in which the difference from the room shrinks to 1/e. Source: the same law."""
        return 1 / self.per_s

    @property
    def _shrinkage(self) -> float:
        return (self.last_degC - self.room_degC) / (self.first_degC - self.room_degC)

    def bath_degC(self, after_s: float) -> float:
        """Return the temperature [degC] ``after_s`` [s] from the last reading, 0 to 24 h ahead.

        Raises `Refused` outside. Source: Newton's law of cooling.
        """
        return cooled_degC(self.last_degC, self.room_degC, self.per_s, _ahead(after_s))

    def doubt_K(self, after_s: float) -> float:
        """Return how far [K] the tolerance of the two readings lets `bath_degC` be off.

        Source: propagation of independent errors through Newton's law.
        """
        spans = _ahead(after_s) / self.apart_s
        shrunk = self._shrinkage**spans
        return self.tolerance_K * math.hypot((1 + spans) * shrunk, spans * shrunk * self._shrinkage)

    def time_until_s(self, bath_degC: float) -> float:
        """Return the time [s] from the last reading until the tray has ``bath_degC`` [degC].

        Raises `Refused` for a temperature the tray does not pass on its way to the room.
        Source: Newton's law of cooling.
        """
        left = (bath_degC - self.room_degC) / (self.last_degC - self.room_degC)
        if 0 < left <= 1:
            return -math.log(left) / self.per_s
        low, high = sorted((self.room_degC, self.last_degC))
        raise Refused(
            f"the tray never comes to {bath_degC:g} degC",
            where="until",
            allowed=f"from {low:g} to {high:g} degC, without the room's {self.room_degC:g}",
        )


def tray_cooling(
    first: tuple[float, float],
    last: tuple[float, float],
    room_degC: float,
    *,
    tolerance_K: float = READING_TOLERANCE_K,
) -> TrayCooling:
    """Return how a tray cools, from two readings (time_s, bath_degC) [s, degC] in a room of ``room_degC``.

    Raises `Refused` where the readings do not come nearer to the room, or differ by less than twice
    ``tolerance_K`` [K]. Source: Newton's law of cooling; the usual tolerance: common practice, no source.
    """
    (first_s, first_degC), (last_s, last_degC) = first, last
    if not last_s > first_s:
        raise Refused("the second reading is not the later one", where="readings")
    before_K, after_K = first_degC - room_degC, last_degC - room_degC
    if before_K * after_K <= 0 or abs(after_K) >= abs(before_K):
        raise Refused(
            f"{first_degC:g} and then {last_degC:g} degC do not come nearer to the room's {room_degC:g} degC",
            where="readings",
        )
    if abs(before_K - after_K) < 2 * tolerance_K:
        raise Refused(
            f"the readings differ by {abs(before_K - after_K):.2g} K, too little to tell a rate from",
            where="readings",
            allowed=f"{2 * tolerance_K:g} K or more",
        )
    return TrayCooling(room_degC, first_degC, last_degC, last_s - first_s, tolerance_K)


def _ahead(after_s: float) -> float:
    if 0 <= after_s <= LONGEST_AHEAD_S:
        return after_s
    raise Refused(f"{after_s:g} s from the last reading", where="after", allowed="0 s to 24 h")
