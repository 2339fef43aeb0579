"""What the bench wants done in the world: told in order, carried out by the controller."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.facts.events.run import Entry
from firmware_py.facts.tunes import Tune


@dataclass(frozen=True, slots=True)
class Write:
    """Put an entry into the journal."""

    entry: Entry


@dataclass(frozen=True, slots=True)
class Play:
    """Let the sounder play a tune."""

    tune: Tune


@dataclass(frozen=True, slots=True)
class Switch:
    """Switch a relay for good."""

    relay: str
    on: bool


@dataclass(frozen=True, slots=True)
class Expose:
    """Light a relay once the announcing entry is on the disk: for ``for_s`` [s], or until stopped (None).

    ``ceiling_s`` [s] ends it in any case.
    """

    exposure: str
    relay: str
    for_s: float | None
    ceiling_s: float


@dataclass(frozen=True, slots=True)
class StopExposure:
    """End an exposure now, before anything else is done; or never begin it."""

    exposure: str


@dataclass(frozen=True, slots=True)
class AskBook:
    """Ask the book where plates of a box were pulled from a developer, and tell the bench, when it comes."""

    run_id: str
    box: str
    developer: str


Effect = Write | Play | Switch | Expose | StopExposure | AskBook
