"""What the switchboard can be asked: one frozen fact for each command."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RelayWiring:
    """One relay: its line, and how long it may ever be on.

    Its safe state is always *not energised*: the one state that outlives the death of a process, of the
    kernel and of the mains. What must run when all else is dead belongs on the normally-closed contact.

    ``pin`` is the line by its BCM number, None for a switch worked by hand. ``ceiling_s`` [s] bounds every
    exposure, None takes none. ``continuous`` lets it be switched for good, for at most ``stay_limit_s`` [s]
    since last asked for (None: without limit).
    """

    name: str
    pin: int | None
    active_high: bool = True
    ceiling_s: float | None = None
    continuous: bool = True
    stay_limit_s: float | None = None


@dataclass(frozen=True, slots=True)
class Configure:
    """Open the relays; the first command, and given once.

    ``pins`` names the way to the pins (`firmware_py.devices.pins`), ``record`` a file that takes every
    level change of mock pins, ``last_words`` one that takes the last exposures when the switchboard ends.
    Silence of ``silence_s`` [s] makes every relay safe.
    """

    relays: tuple[RelayWiring, ...]
    pins: str
    record: str | None = None
    silence_s: float = 1.0
    last_words: str | None = None


@dataclass(frozen=True, slots=True)
class Beat:
    """Say that the controller lives; answered with the same ``number``."""

    number: int


@dataclass(frozen=True, slots=True)
class Switch:
    """Switch a relay for good. Asking for *on* again starts its limit anew; *off* is always obeyed."""

    relay: str
    on: bool


@dataclass(frozen=True, slots=True)
class Expose:
    """Energise ``relay`` now for ``for_s`` [s], or until stopped (None); never past ``ceiling_s`` [s]."""

    id: str
    relay: str
    for_s: float | None
    ceiling_s: float | None


@dataclass(frozen=True, slots=True)
class Stop:
    """End the exposure called ``id`` now."""

    id: str


@dataclass(frozen=True, slots=True)
class MakeSafe:
    """Release every relay now."""


@dataclass(frozen=True, slots=True)
class Leave:
    """Release every relay and end."""


Command = Configure | Beat | Switch | Expose | Stop | MakeSafe | Leave
