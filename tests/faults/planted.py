"""Deliberate defects, planted in a running bench: each must be caught by the observer.

``python -m tests.faults.planted`` plays a few sessions with each and prints which invariant caught it.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

import msgspec


@dataclass(frozen=True)
class Defect:
    """A defect, the fault that brings it to light, and the invariant that must tell of it."""

    name: str
    fault: str
    caught_by: str
    plant: Callable[[], None]
    plant_in_switchboard: Callable[[], None] = lambda: None
    plant_in_screen: Callable[[], None] = lambda: None
    plant_in_gate: Callable[[], None] = lambda: None
    errands: tuple[str, ...] = ("develop", "write")


def _no_ceiling() -> None:
    """An exposure that only a foot ends is never ended by the switchboard."""
    from firmware_py.switchboard.board import Board

    expose = Board._expose

    def endless(self: Any, command: Any) -> Any:
        reports = expose(self, command)
        if command.for_s is None:
            self._lines[command.relay].off_due_s = float("inf")
        return reports

    Board._expose = endless  # type: ignore[method-assign]


def _lost_fsync() -> None:
    """What is acknowledged lies in the kernel's memory only."""
    from firmware_py.journal import connect

    connect._WRITER = tuple(  # type: ignore[assignment]
        "synchronous = OFF" if "synchronous" in pragma else pragma for pragma in connect._WRITER
    )


def _no_heartbeat() -> None:
    """The switchboard never minds a controller that says nothing."""
    from firmware_py.bench import wiring

    configure = vars(wiring)["Configure"]

    def deaf(*facts: Any, **more: Any) -> Any:
        return configure(*facts, **(more | {"silence_s": 1e6}))

    vars(wiring)["Configure"] = deaf


def _blind_guardian() -> None:
    """The guardian sees nobody's silence, only an end."""
    from firmware_py.switchboard import watch

    watch.LATER_S = 1e6


def _stale_reading_accepted() -> None:
    """The heater goes by a reading of any age."""
    from firmware_py.bench.interlocks import heater_stale

    heater_stale.STALE_S = 1e6


def _worker_ends_silently() -> None:
    """A probe that no thread could be had for is never asked again, and nobody is told."""
    from firmware_py.bench import news

    aside = vars(news)["aside"]

    class Unheard(BaseException):
        """Passes by whoever would say it."""

    async def silent(*words: Any) -> Any:
        try:
            return await aside(*words)
        except Exception as error:
            raise Unheard from error

    vars(news)["aside"] = silent


def _double_append() -> None:
    """Every note is written twice, numbered and chained as if it were meant."""
    from firmware_py.facts.events.run import NoteWritten
    from firmware_py.journal.store import Journal

    append = Journal.append
    more: dict[str, int] = {}

    def twice(self: Journal, entries: Any) -> None:
        written = []
        for entry in entries:
            copies = 2 if isinstance(entry.event, NoteWritten) else 1
            for copy in range(copies):
                number = entry.number + more.get(entry.subject, 0) + copy
                written.append(msgspec.structs.replace(entry, number=number))
            more[entry.subject] = more.get(entry.subject, 0) + copies - 1
        append(self, written)

    Journal.append = twice  # type: ignore[method-assign]


def _white_in_the_rinse() -> None:
    """A rinse is told to bear any light, wherever it stands in the routine."""
    from firmware_py.bench.trays import lane

    right = vars(lane)["light_allowed"]

    def by_kind(routine: Any, position: int, *facts: Any, **more: Any) -> Any:
        is_rinse = position < len(routine.steps) and routine.steps[position].kind == "rinse"
        return "white" if is_rinse else right(routine, position, *facts, **more)

    vars(lane)["light_allowed"] = by_kind


def _bottles_never_asked_for() -> None:
    """A step of which two bottles can be meant is counted on neither, and nothing is said."""
    from firmware_py.bench.upkeep.bath_use import BathUse

    BathUse._ask_which = lambda self, lane: None  # type: ignore[method-assign]


def _file_never_looked_at() -> None:
    """A journal that was deleted is written on, in vain."""
    from firmware_py.journal.in_place import InPlace

    InPlace.trouble = lambda self: ""  # type: ignore[method-assign]


def _typed_letters_act() -> None:
    """A letter goes into the line that is open, and past every check to the page as well."""
    from textual.actions import parse

    from tui.key_path import KeyPath

    lead = KeyPath._lead

    async def both(self: Any, key: Any) -> None:
        page = await self._page()
        if page.asking.takes_text and key.is_printable:
            for binding in page._bindings.key_to_bindings.get(key.key.lower(), ()):
                _, deed, words = parse(binding.action)
                getattr(page, f"action_{deed}")(*words)
        await lead(self, key)

    KeyPath._lead = both  # type: ignore[method-assign]


def _spaces_lost() -> None:
    """The guard minds a line to type in as well: a space in it is dropped."""
    from tui.key_path import KeyPath

    lead = KeyPath._lead

    async def without(self: Any, key: Any) -> None:
        if key.key != "space" or not (await self._page()).asking.takes_text:
            await lead(self, key)

    KeyPath._lead = without  # type: ignore[method-assign]


def _no_witness() -> None:
    """Nobody knows of the newest event but the log itself."""
    from firmware_py.journal import recover, store

    vars(store)["missing_in"] = vars(recover)["missing_in"] = lambda *_: ""


def _gate_asks_the_settings() -> None:
    """A gate that wants its settings after the screen's death, and without them gives the colours back."""
    import tomllib

    from tui.gate.gate import Gate

    show_end = Gate._show_end

    def asking(self: Any, status: int) -> None:
        try:
            tomllib.loads(Path(os.environ["EMBERTRAY_CONFIG"]).read_text(encoding="utf-8"))
        except ValueError:
            self.gives_back, self._result = True, status
        else:
            show_end(self, status)

    Gate._show_end = asking  # type: ignore[method-assign]


DEFECTS = {
    defect.name: defect
    for defect in (
        Defect(
            "no ceiling",
            "client of another age",
            "the lamp obeys its ceiling",
            lambda: None,
            _no_ceiling,
            errands=("hold", "write"),
        ),
        Defect(
            "lost fsync",
            "power cut",
            "nothing acknowledged is lost, or there twice",
            _lost_fsync,
        ),
        Defect(
            "no heartbeat",
            "controller frozen for long",
            "off within 1.1 s of its owner's death",
            _no_heartbeat,
            errands=("heat", "print", "write"),
        ),
        Defect(
            "blind guardian",
            "controller frozen, switchboard frozen",
            "off within 1.5 s of two deaths",
            lambda: None,
            _blind_guardian,
            errands=("print", "write"),
        ),
        Defect(
            "stale reading accepted",
            "jacket probe never answers",
            "no heat by an old reading",
            _stale_reading_accepted,
            errands=("heat", "write", "develop"),
        ),
        Defect(
            "file never looked at",
            "journal deleted",
            "nothing is acknowledged without its file",
            _file_never_looked_at,
        ),
        Defect(
            "no witness",
            "damaged log",
            "nothing acknowledged is lost, or there twice",
            _no_witness,
        ),
        Defect(
            "worker ends silently",
            "no new thread or process",
            "the page says what is wrong within 2 s",
            _worker_ends_silently,
        ),
        Defect(
            "double append",
            "wall clock set back",
            "nothing acknowledged is lost, or there twice",
            _double_append,
        ),
        Defect(
            "white light in the rinse",
            "wall clock set back",
            "no white light before the last fixer is over",
            _white_in_the_rinse,
        ),
        Defect(
            "bottles never asked for",
            "jacket probe gone",
            "a plate counts on exactly one bottle",
            _bottles_never_asked_for,
            errands=("bottles", "develop", "write"),
        ),
        Defect(
            "typed letters act",
            "a sentence typed into a note",
            "a typed sentence does nothing",
            lambda: None,
            plant_in_screen=_typed_letters_act,
        ),
        Defect(
            "typed spaces lost",
            "a sentence typed into a note",
            "a note is in the book as typed",
            lambda: None,
            plant_in_screen=_spaces_lost,
        ),
        Defect(
            "gate asks the settings",
            "settings spoilt, screen killed",
            "nothing but red",
            lambda: None,
            plant_in_gate=_gate_asks_the_settings,
        ),
    )
}


def plant_in_controller(name: str) -> None:
    """Plant a defect in this controller."""
    DEFECTS[name].plant()


def plant_in_switchboard(name: str) -> None:
    """Plant a defect in this switchboard."""
    DEFECTS[name].plant_in_switchboard()


def plant_in_screen(name: str) -> None:
    """Plant a defect in this screen."""
    DEFECTS[name].plant_in_screen()


def plant_in_gate(name: str) -> None:
    """Plant a defect in this gate."""
    DEFECTS[name].plant_in_gate()


# A defect shows where chance brings the fault to the right moment; within so many sessions it must.
TRIES = 6


def caught(defect: Defect, seed: int) -> tuple[int, str]:
    """Play sessions with the defect until it is caught; return how many it took, and the words."""
    from tests.faults.plan import planned
    from tests.faults.storm import played_and_judged

    for number in range(TRIES):
        plan = planned(
            seed, number, (defect.fault,), Random(f"planted {seed}/{number}"), errands=defect.errands
        )
        report = played_and_judged(plan, defect=defect.name)
        found = [v.words for v in report.violations if v.invariant == defect.caught_by]
        if found:
            return number + 1, found[0]
    return TRIES, ""


def main() -> int:
    """Plant each defect and print what came of it; 1 where one was not caught."""
    from tests.faults.stage.run_controller import warm

    warm()
    escaped = 0
    for name, defect in DEFECTS.items():
        sessions, words = caught(defect, seed=1)
        escaped += not words
        told = f"caught in session {sessions}: {words}" if words else f"ESCAPED in {sessions} sessions"
        print(f"{name:24} {told}", flush=True)
    return int(escaped > 0)


if __name__ == "__main__":
    sys.exit(main())
