"""Writes an invented book on an invented clock: the same seed writes the same book."""

from __future__ import annotations

from datetime import datetime, timedelta
from random import Random
from typing import Protocol
from uuid import UUID

from firmware_py.facts.events.run import AnyEvent, Entry

_VERSION, _VARIANT = 0x7 << 76, 0b10 << 62


class Folded(Protocol):
    """A subject's fold."""

    number: int

    def apply(self, entry: Entry) -> None:
        """Take in the next entry, or raise Refused."""
        ...


class Pen:
    """Stamps events by its own clock and keeps what it wrote until it is taken."""

    def __init__(self, seed: int, utc: datetime) -> None:
        self.random = Random(seed)  # noqa: S311 - an invented season, no secret
        self.utc = utc
        self._boot_id = ""
        self._boot_s = 0.0
        self._written: list[Entry] = []

    def begin_day(self, utc: datetime) -> None:
        """Start the machine anew at ``utc``."""
        self.utc = utc
        self._boot_id = f"{self.random.getrandbits(128):032x}"
        self._boot_s = 60.0

    def wait(self, seconds: float) -> None:
        """Let time pass [s]."""
        self.utc += timedelta(seconds=seconds)
        self._boot_s = round(self._boot_s + seconds, 3)

    def go_to(self, boot_s: float) -> None:
        """Go to another moment of the day, back too: several things go on at a time."""
        self.wait(boot_s - self._boot_s)

    @property
    def now_s(self) -> float:
        """Get the boot clock [s]."""
        return self._boot_s

    def first(self, event: AnyEvent) -> Entry:
        """Write the first event of a new subject and return its entry."""
        self.wait(0.004)  # so that ids sort by their making
        return self._put(self._new_id(), 1, event)

    def follow(self, subject: str, record: Folded, event: AnyEvent) -> None:
        """Write the next event of a subject, through its fold."""
        entry = self._put(subject, record.number + 1, event)
        record.apply(entry)

    def take(self) -> list[Entry]:
        """Return what was written since, in the order of its moments, and forget it."""
        taken, self._written = self._written, []
        return sorted(taken, key=lambda entry: entry.utc)

    def _put(self, subject: str, number: int, event: AnyEvent) -> Entry:
        utc = self.utc.isoformat(timespec="milliseconds")
        entry = Entry(
            subject=subject, number=number, boot_id=self._boot_id, boot_s=self._boot_s, utc=utc, event=event
        )
        self._written.append(entry)
        return entry

    def _new_id(self) -> str:
        """Return a UUIDv7 of the invented moment, its random bits by the seed."""
        millis = int(self.utc.timestamp() * 1000)
        return str(UUID(int=millis << 80 | _VERSION | _VARIANT | self.random.getrandbits(61)))
