"""What the bench wants done in the world: told in order, carried out by the controller."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.devices.sounder import Tune
from firmware_py.journal.events import Entry


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


Effect = Write | Play | Switch
