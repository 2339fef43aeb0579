"""What the switchboard says: one frozen fact for each report, its moments on the boot clock."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

OffReason = Literal["asked", "limit", "made safe", "switchboard lost"]
EndReason = Literal["time", "stopped", "ceiling", "made safe", "switchboard lost"]


@dataclass(frozen=True, slots=True)
class SwitchboardReady:
    """Every relay is open and in its safe state.

    ``realtime`` and ``locked`` say whether the system granted real-time priority and locked memory;
    ``pins`` names the way to the pins that is in use.
    """

    pins: str
    realtime: bool
    locked: bool


@dataclass(frozen=True, slots=True)
class Alive:
    """The answer to a beat."""

    number: int


@dataclass(frozen=True, slots=True)
class RelaySwitched:
    """A relay was switched for good, or fell back to safe, at ``at_s`` [boot s]."""

    relay: str
    on: bool
    at_s: float
    why: OffReason = "asked"


@dataclass(frozen=True, slots=True)
class ExposureBegan:
    """The relay of exposure ``id`` was energised at ``at_s`` [boot s], as measured at the pin."""

    id: str
    relay: str
    at_s: float


@dataclass(frozen=True, slots=True)
class ExposureEnded:
    """The relay was on from ``on_s`` to ``off_s`` [boot s].

    Both are measured at the pin when ``doubt_s`` is 0; otherwise ``off_s`` is an estimate good to
    ± ``doubt_s`` [s], made because the switchboard died or froze before it could say.
    """

    id: str
    relay: str
    on_s: float
    off_s: float
    why: EndReason
    doubt_s: float = 0.0

    @property
    def lasted_s(self) -> float:
        """Get the on-time [s]."""
        return self.off_s - self.on_s

    @property
    def measured(self) -> bool:
        """Get whether the off instant was measured rather than estimated."""
        return self.doubt_s == 0.0


@dataclass(frozen=True, slots=True)
class CommandRefused:
    """A readable command was not obeyed; nothing was changed. ``id`` names the exposure it was about."""

    words: str
    id: str | None = None


@dataclass(frozen=True, slots=True)
class Leaving:
    """The switchboard has released every relay and ends."""

    why: str


@dataclass(frozen=True, slots=True)
class SwitchboardLost:
    """There is no switchboard now; said by the link, after it has made the lines safe.

    With ``made_safe`` False it could not: the lines may still be driven, and a person must pull the plug.
    With ``final`` True no other will be started.
    """

    why: str
    made_safe: bool = True
    final: bool = False


@dataclass(frozen=True, slots=True)
class GuardianLost:
    """The guardian, which clears the pins when all else fails, is lost; another is started."""

    why: str


@dataclass(frozen=True, slots=True)
class GuardianReady:
    """A guardian is there again."""


Report = (
    SwitchboardReady
    | Alive
    | RelaySwitched
    | ExposureBegan
    | ExposureEnded
    | CommandRefused
    | Leaving
    | SwitchboardLost
    | GuardianLost
    | GuardianReady
)
