"""What the heater and its watchers go by: the rule of the settings, and what is seen at a moment."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from firmware_py.devices.probe import NoReading, Reading

HEATER = "heater"
JACKET = "jacket"
ROOM = "room"


@dataclass(frozen=True, slots=True)
class HeatRule:
    """How the jacket is heated; the words are those of ``[heater]`` in the settings."""

    place: str = JACKET
    limit_degC: float = 30.0
    band_K: float = 2.0
    make_up_s: float = 900.0
    window_s: float = 20.0
    shortest_s: float = 1.0
    warms_by_K: float = 0.5
    warms_within_s: float = 300.0
    stay_limit_s: float = 5.0
    jacket_ml: float | None = None

    @property
    def ask_again_s(self) -> float:
        """Get how often [s] the relay is asked for again while it is on, well within its stay limit."""
        return self.stay_limit_s / 2.5


@dataclass(frozen=True, slots=True)
class HeatSeen:
    """What is seen at ``now_s`` [boot s]: the last word of the heater's probes, and of others that it warms.

    ``is_on`` is what the switchboard says of the relay since ``since_s`` [boot s]; ``room_degC`` [degC] is
    known where a probe hangs in the room.
    """

    now_s: float
    word: Reading | NoReading | None
    others: Sequence[Reading] = ()
    is_on: bool = False
    since_s: float = 0.0
    room_degC: float | None = None


class HeatWatch(Protocol):
    """A watcher of interlock 4, told at every word of the probes and at every turn of the bench."""

    name: str

    def look(self, seen: HeatSeen) -> str:
        """Return why the heater must be off now; nothing where it may be on."""
        ...

    def begin(self) -> None:
        """Forget what was seen: a person sets the heater anew."""
        ...
