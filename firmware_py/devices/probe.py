"""What a temperature probe is: something that gives a reading, or says why it has none."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

# Anything else is not the temperature of a bath or a room. Common practice, no source.
BELIEVABLE_degC = (-5.0, 60.0)

ReadingSource = Literal["probe", "hand", "trend", "trace"]


@dataclass(frozen=True, slots=True)
class Reading:
    """A temperature that can be believed: ``bath_degC`` ± ``tolerance_K``, taken at ``taken_s`` [boot s]."""

    bath_degC: float
    tolerance_K: float
    taken_s: float
    source: ReadingSource = "probe"


@dataclass(frozen=True, slots=True)
class NoReading:
    """The absence of a reading and its reason, in words a person can act on."""

    why: str
    taken_s: float


def believed(bath_degC: float, tolerance_K: float, taken_s: float) -> Reading | NoReading:
    """Return a reading of ``bath_degC`` [degC], or none where no bath or room can be so cold or hot."""
    low_degC, high_degC = BELIEVABLE_degC
    if not low_degC <= bath_degC <= high_degC:
        return NoReading(f"{bath_degC:.1f} degC is not the temperature of a bath", taken_s)
    return Reading(bath_degC, tolerance_K, taken_s)


class Probe(Protocol):
    """A thermometer. ``blocking`` probes may take a second to answer and are read in a thread of their own.

    A dead wire, a bad checksum or an impossible value gives `NoReading`; never an exception, never the
    last value again.
    """

    name: str
    blocking: bool

    def read(self, now_s: float) -> Reading | NoReading:
        """Measure the temperature; ``now_s`` [boot s] stamps the answer."""
        ...

    def close(self) -> None:
        """Let the wire go; afterwards `read` gives `NoReading`."""
        ...
