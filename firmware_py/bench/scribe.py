"""Writes down what happens: stamps events, numbers them, and gathers what is to be done."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, TypeVar

from firmware_py.bench.effects import AskBook, Effect, Expose, Play, StopExposure, Switch, Write
from firmware_py.bench.log import log_run, log_session
from firmware_py.devices.clock import Clock
from firmware_py.facts.events import run as ev
from firmware_py.facts.events.print import PrintOpened
from firmware_py.facts.tunes import Tune
from firmware_py.journal.ids import uuid7
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.run_record import RunRecord


class Subject(Protocol):
    """Something the book has a chain of entries about."""

    subject: str
    number: int

    def apply(self, entry: ev.Entry) -> None:
        """Take in the next entry, or raise Refused."""
        ...


Folded = TypeVar("Folded", bound=Subject)


class Scribe:
    """The bench's pen. ``revision`` rises with everything that may change what is seen."""

    def __init__(self, clock: Clock) -> None:
        self.clock = clock
        self.session = uuid7(clock.utc())
        self.revision = 0
        self.sounded: tuple[int, Tune | None] = (0, None)
        self._number = 0
        self._effects: list[Effect] = []

    def take_effects(self) -> list[Effect]:
        """Return what is to be done, and forget it."""
        taken, self._effects = self._effects, []
        return taken

    def open_run(self, opened: ev.RunOpened) -> RunRecord:
        """Write a new run's first entry and return its record."""
        entry = self._entry(uuid7(self.clock.utc()), 1, opened)
        log_run(entry.subject, opened)
        self._put(Write(entry))
        return RunRecord.begin(entry)

    def open_print(self, opened: PrintOpened) -> PrintRecord:
        """Write a new print's first entry and return its record."""
        entry = self._entry(uuid7(self.clock.utc()), 1, opened)
        self._put(Write(entry))
        return PrintRecord.begin(entry)

    def write(self, record: RunRecord | PrintRecord, event: ev.AnyEvent) -> None:
        """Write the next entry of a run or print; Raises Refused, and writes nothing, where it can not be."""
        subject = record.run_id if isinstance(record, RunRecord) else record.print_id
        entry = self._entry(subject, record.number + 1, event)
        record.apply(entry)
        log_run(subject, event)
        self._put(Write(entry))

    def begin(self, first: ev.AnyEvent, fold: Callable[[ev.Entry], Folded]) -> Folded:
        """Write the first entry of a new subject and return what its fold makes of it."""
        entry = self._entry(uuid7(self.clock.utc()), 1, first)
        record = fold(entry)
        self._put(Write(entry))
        return record

    def follow(self, record: Subject, event: ev.AnyEvent) -> None:
        """Write the next entry of a subject; Raises Refused, and writes nothing, where it can not be."""
        entry = self._entry(record.subject, record.number + 1, event)
        record.apply(entry)
        self._put(Write(entry))

    def write_session(self, event: ev.AnyEvent) -> None:
        """Write an entry of the bench's own."""
        log_session(event)
        self._number += 1
        self._put(Write(self._entry(self.session, self._number, event)))

    def play(self, tune: Tune) -> None:
        """Let a tune be played."""
        self.sounded = (self.sounded[0] + 1, tune)
        self._put(Play(tune))

    def switch(self, relay: str, on: bool) -> None:
        """Let a relay be switched."""
        self._put(Switch(relay, on))

    def expose(self, exposure: str, relay: str, *, for_s: float | None, ceiling_s: float) -> None:
        """Let a relay be lit, once all that was written before is on the disk."""
        self._put(Expose(exposure, relay, for_s, ceiling_s))

    def stop_exposure(self, exposure: str) -> None:
        """Let an exposure be ended at once."""
        self._put(StopExposure(exposure))

    def ask_book(self, run_id: str, box: str, developer: str) -> None:
        """Let the book be asked about earlier plates."""
        self._put(AskBook(run_id, box, developer))

    def _put(self, effect: Effect) -> None:
        self.revision += 1
        self._effects.append(effect)

    def _entry(self, subject: str, number: int, event: ev.AnyEvent) -> ev.Entry:
        return ev.Entry(
            subject=subject,
            number=number,
            boot_id=self.clock.boot_id,
            boot_s=self.clock.now_s(),
            utc=self.clock.utc().isoformat(timespec="milliseconds"),
            event=event,
        )
