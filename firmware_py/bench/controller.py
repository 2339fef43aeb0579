"""The controller: lets the bench go on, and carries its wishes to the devices and the book."""

from __future__ import annotations

import asyncio
import math
from collections.abc import Awaitable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from functools import partial
from typing import Protocol

from firmware_py.bench.aside import NoThread, aside
from firmware_py.bench.bench import Bench
from firmware_py.bench.book_keeper import RETRY_S, Book, BookKeeper
from firmware_py.bench.effects import AskBook, Expose, Play, StopExposure, Switch, Write
from firmware_py.bench.lamp.lamp_hand import LampHand
from firmware_py.bench.news import News
from firmware_py.bench.open_devices import Devices
from firmware_py.bench.show import show
from firmware_py.bench.trays.precedents import Precedents
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock
from firmware_py.facts.acts.book import BookAct
from firmware_py.facts.acts.run import AnyAct
from firmware_py.facts.views.bench import BenchView


class Person(Protocol):
    """Whoever plays the person in a rehearsal without one."""

    def next_due_s(self, bench: Bench) -> float | None:
        """Return the next moment [boot s] at which the person does something, None while waiting."""
        ...

    def play(self, bench: Bench) -> None:
        """Do what is due by now."""
        ...

    def is_over(self, bench: Bench) -> bool:
        """Return whether the person has done all there was to do."""
        ...

    @property
    def has_pulled_the_plug(self) -> bool:
        """Get whether the controller is to die now, without a word."""
        ...


@dataclass(slots=True)
class Controller:
    """Runs a bench on a clock. One task runs `run`; others may have it `do` acts, and look at its `view`."""

    bench: Bench
    clock: Clock
    devices: Devices
    book: Book
    person: Person | None = None
    precedents: Precedents | None = None
    _wake: asyncio.Event = field(default_factory=asyncio.Event)
    _changed: asyncio.Condition = field(default_factory=asyncio.Condition)
    _keeper: BookKeeper = field(init=False)
    _lamp: LampHand = field(init=False)
    _news: News = field(init=False)
    _told: int = -1
    _stop: str = ""
    _is_dead: bool = False
    _tasks: list[asyncio.Task[None]] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Tie the book and the devices to the bench."""
        self._keeper = BookKeeper(
            self.book, at_once=self.clock.speed > 1.0, trouble=self._book_refuses, well=self._book_is_well
        )
        self._lamp = LampHand(self.devices.switchboard, self._keeper, self._exposure_refused)
        self._news = News(self.bench, self.clock, self.devices, look=self._wake.set, act=self._moved_on)

    async def run(self) -> None:
        """Run the bench until it is told to stop, or the person of a rehearsal is through."""
        try:
            self._tasks = self._news.listen()
            if not math.isinf(self.clock.speed):
                self._tasks.append(asyncio.get_running_loop().create_task(self._read_formulas()))
            while not self._stop and not self._is_dead:
                await self._turn()
            if not self._is_dead:
                self.bench.stop(self._stop)
                self._carry_out()
        finally:
            await self._close()

    def stop(self, why: str) -> None:
        """Ask the controller to end in good order."""
        self._stop = self._stop or why
        self._wake.set()

    async def do(self, act: AnyAct) -> None:
        """Do what a person asks; return when it is in the book. Raises Refused when it is not done."""
        await self.recall(act)
        self.act(act)
        await self.kept()

    def act(self, act: AnyAct) -> None:
        """Do what a person asks, at once. Raises Refused when it is not done."""
        try:
            self.bench.do(act)
        finally:
            self._moved_on()

    async def recall(self, act: AnyAct) -> None:
        """Read from the book what an act speaks of and the bench has not at hand. Raises Refused.

        All that was done before is in the book by then, so that the run read is the run as it stands.
        """
        if not isinstance(act, BookAct) or self.precedents is None or self.bench.judging.knows(act.run):
            return
        await self.kept()
        if math.isinf(self.clock.speed):  # a simulated clock waits for nobody
            self.bench.judging.remember(self.precedents.run(act.run))
        else:
            self.bench.judging.remember(await asyncio.to_thread(self.precedents.run, act.run))

    async def kept(self) -> None:
        """Return when all that was done so far is in the book. Raises Refused where the book refuses."""
        await self._keeper.settled()

    @property
    def lit_for(self) -> str | None:
        """Get the exposure that the printing lamp is lit for, or is about to be."""
        return self.bench.lamp_side.printing.lit_for

    def put_out(self, exposure: str, by: str) -> None:
        """Put the lamp out if it is still lit for ``exposure``, at once."""
        if self.lit_for == exposure:
            self.bench.lamp_side.printing.darken(by)
            self._moved_on()

    def view(self) -> BenchView:
        """Return the bench as it is now."""
        return show(self.bench)

    async def changed_since(self, revision: int) -> int:
        """Return the bench's revision once it is past ``revision``."""
        async with self._changed:
            await self._changed.wait_for(lambda: self.bench.revision > revision)
        return self.bench.revision

    # --- one turn ---

    async def _turn(self) -> None:
        self._wake.clear()
        now_s = self.clock.now_s()
        self._news.read_probes(now_s)
        if self.person is not None:
            self.person.play(self.bench)
            self._is_dead = self.person.has_pulled_the_plug
            if self._is_dead:
                return
        self.devices.switchboard.advance(now_s)
        self._news.look_at_foot()
        self.bench.advance()
        self._carry_out()
        if self.bench.revision != self._told:
            self._told = self.bench.revision
            async with self._changed:
                self._changed.notify_all()
        if self.person is not None and self.person.is_over(self.bench):
            self.stop("the script is over")
            return
        await self.clock.wait_until(self._next_due_s(), self._wake)

    def _next_due_s(self) -> float:
        moments = [
            self._news.read_next_s,
            self.bench.next_due_s(),
            self.devices.switchboard.next_due_s(),
            self.person.next_due_s(self.bench) if self.person else None,
        ]
        return min(m for m in moments if m is not None)

    def _moved_on(self) -> None:
        """Carry out what the bench wants now, and see what is due next."""
        self._carry_out()
        self._wake.set()

    def _carry_out(self) -> None:
        effects = self.bench.take_effects()
        for effect in effects:  # putting out comes before everything else and waits for nothing
            if isinstance(effect, StopExposure):
                self._lamp.stop(effect.exposure)
        for effect in effects:
            match effect:
                case Play():
                    self.devices.sounder.play(effect.tune)
                case Switch():
                    self._switch(effect)
                case AskBook():
                    self._ask_book(effect)
                case _:
                    pass
        self._keeper.give([effect.entry for effect in effects if isinstance(effect, Write)])
        for effect in effects:
            if isinstance(effect, Expose):
                self._lamp.expose(effect)

    def _switch(self, wanted: Switch) -> None:
        try:
            self.devices.switchboard.switch(wanted.relay, wanted.on)
        except Refused as refusal:  # the book's entries behind it must not be lost over it
            self.bench.notices.say("relay", refusal.line, self.clock.now_s())

    def _ask_book(self, asked: AskBook) -> None:
        if self.precedents is None:
            return
        if self.clock.speed > 1.0:  # a simulated clock waits for nobody
            self._tell(asked, self._looked_up(asked, self.precedents))
            return
        looking = aside(partial(self._looked_up, asked, self.precedents), "precedents")
        task = asyncio.get_running_loop().create_task(self._tell_later(asked, looking))
        self._tasks.append(task)
        task.add_done_callback(self._is_told)

    def _is_told(self, task: asyncio.Task[None]) -> None:
        with suppress(ValueError):  # all are let go at the end
            self._tasks.remove(task)

    def _looked_up(self, asked: AskBook, precedents: Precedents) -> Sequence[float]:
        rehearsal = self.bench.plan.rehearsal
        with suppress(Refused):  # nothing of a run hangs on it
            return precedents.pulled_at_s(asked.box, asked.developer, rehearsal=rehearsal)
        return ()

    async def _tell_later(self, asked: AskBook, looking: Awaitable[Sequence[float]]) -> None:
        try:
            found = await looking
        except NoThread:  # nothing of a run hangs on it
            found = ()
        self._tell(asked, found)
        self._wake.set()

    def _tell(self, asked: AskBook, pulled_at_s: Sequence[float]) -> None:
        self.bench.book_says(asked.run_id, pulled_at_s)

    async def _read_formulas(self) -> None:
        """Read the formulas on a thread: the first time, that takes longer than a cue may be late."""
        try:
            await self._read_aside()
            self.bench.upkeep.read_formulas()
        except Refused as refusal:
            self.bench.trouble("formulas", f"The formulas cannot be read: {refusal.line}")
        self._wake.set()

    async def _read_aside(self) -> None:
        """Read the formulas once there is a thread for it."""
        while True:
            try:
                await aside(self.bench.plan.upkeep.formulas, "formulas")
            except NoThread as refusal:
                self.bench.notices.say("formulas", refusal.line, self.clock.now_s())
                self._wake.set()
                await self.clock.wait_until(self.clock.now_s() + RETRY_S, asyncio.Event())
            else:
                self.bench.notices.clear("formulas")
                return

    def _exposure_refused(self, exposure: str, why: str) -> None:
        self.bench.exposure_refused(exposure, why)
        self._wake.set()

    def _book_refuses(self, why: str) -> None:
        self.bench.notices.say(
            "journal",
            f"The journal takes nothing: {why}. Timing goes on; what happens is kept waiting",
            self.clock.now_s(),
        )
        self.bench.scribe.revision += 1

    def _book_is_well(self) -> None:
        self.bench.trouble_over("journal")

    async def _close(self) -> None:
        tasks = list(self._tasks)
        for task in tasks:
            task.cancel()
        # Whatever one of them failed with: the relays and the book must still be let go in good order.
        await asyncio.gather(*tasks, return_exceptions=True)
        self.devices.close()
        await self._lamp.close()
        await self.devices.switchboard.aclose()
        if not self._is_dead:
            self._carry_out()  # what the switchboard said while it went
        await self._keeper.close()
