"""What a light sensor is: something that shows how much light there is, or says why it does not."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Light:
    """The number ``shown`` (the sensor's own unit) at ``taken_s`` [boot s]."""

    shown: float
    taken_s: float


@dataclass(frozen=True, slots=True)
class NoLight:
    """The absence of a reading and its reason, in words a person can act on."""

    why: str
    taken_s: float


class LightSensor(Protocol):
    """A sensor beside the paper; reading it may take a second."""

    name: str

    def read(self) -> Light | NoLight:
        """Measure the light; stamped with the moment it came."""
        ...

    def close(self) -> None:
        """Let the wire go; afterwards `read` gives `NoLight`."""
        ...
