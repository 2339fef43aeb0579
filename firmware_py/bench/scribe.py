"""Writes down what happens: stamps events, numbers them, and gathers what is to be done."""

from __future__ import annotations

from firmware_py.bench.effects import Effect, Play, Switch, Write
from firmware_py.devices.clock import Clock
from firmware_py.devices.sounder import Tune
from firmware_py.journal import events as ev
from firmware_py.journal.ids import uuid7
from firmware_py.journal.run_record import RunRecord


class Scribe:
    """The bench's pen. ``revision`` rises with everything that may change what is seen."""

    def __init__(self, clock: Clock) -> None:
        self.clock = clock
        self.session = uuid7(clock.utc())
        self.revision = 0
        self._number = 0
        self._effects: list[Effect] = []

    def take_effects(self) -> list[Effect]:
        """Return what is to be done, and forget it."""
        taken, self._effects = self._effects, []
        return taken

    def open_run(self, opened: ev.RunOpened) -> RunRecord:
        """Write a new run's first entry and return its record."""
        entry = self._entry(uuid7(self.clock.utc()), 1, opened)
        self._put(Write(entry))
        return RunRecord.begin(entry)

    def write(self, record: RunRecord, event: ev.AnyEvent) -> None:
        """Write a run's next entry; Raises Refused, and writes nothing, where the run can not take it."""
        entry = self._entry(record.run_id, record.number + 1, event)
        record.apply(entry)
        self._put(Write(entry))

    def write_session(self, event: ev.AnyEvent) -> None:
        """Write an entry of the bench's own."""
        self._number += 1
        self._put(Write(self._entry(self.session, self._number, event)))

    def play(self, tune: Tune) -> None:
        """Let a tune be played."""
        self._put(Play(tune))

    def switch(self, relay: str, on: bool) -> None:
        """Let a relay be switched."""
        self._put(Switch(relay, on))

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
