"""The controller's hand on the lamp: nothing is lit before the book has it; putting out waits for nothing."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Sequence

import pytest

from firmware_py.bench.book_keeper import BookKeeper
from firmware_py.bench.effects import Expose
from firmware_py.bench.lamp import lamp_hand
from firmware_py.bench.lamp.lamp_hand import STOPPED, LampHand
from firmware_py.bench.lamp.lamp_rule import PRINTING_LAMP
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import SimulatedClock
from firmware_py.facts.events.run import BenchStopped, Entry
from firmware_py.switchboard.commands import RelayWiring
from firmware_py.switchboard.link import InProcessSwitchboard

ENTRY = Entry(
    subject="s", number=1, boot_id="b", boot_s=1.0, utc="2026-01-01T00:00Z", event=BenchStopped(why="")
)
WANTED = Expose("p/3", PRINTING_LAMP, 8.0, 9.0)


class SlowBook:
    """A disk that takes an entry when it is let, or says that it is full."""

    def __init__(self) -> None:
        self.may_write = threading.Event()
        self.full = False

    def append(self, entries: Sequence[Entry]) -> None:
        self.may_write.wait(10.0)
        if self.full:
            raise Refused("the disk is full")

    def look_after(self) -> None:
        pass


class Hand:
    """A hand with its book and a simulated lamp."""

    def __init__(self) -> None:
        self.book = SlowBook()
        self.keeper = BookKeeper(self.book, at_once=False)
        self.switchboard = InProcessSwitchboard(
            (RelayWiring(PRINTING_LAMP, 22, ceiling_s=60.0, continuous=False),), SimulatedClock()
        )
        self.refused: list[tuple[str, str]] = []
        self.hand = LampHand(self.switchboard, self.keeper, lambda *said: self.refused.append(said))

    def ask(self) -> None:
        self.keeper.give([ENTRY])
        self.hand.expose(WANTED)

    @property
    def is_lit(self) -> bool:
        return self.switchboard.is_on(PRINTING_LAMP)


@pytest.fixture
async def at():
    hand = Hand()
    yield hand
    hand.book.may_write.set()
    await hand.hand.close()
    await hand.keeper.close()


async def until(what) -> None:
    async with asyncio.timeout(10):
        while not what():  # noqa: ASYNC110 - what is waited for says nothing of itself
            await asyncio.sleep(0.005)


async def test_the_lamp_waits_for_the_book(at):
    at.ask()
    await asyncio.sleep(0.05)
    assert not at.is_lit
    at.book.may_write.set()
    await until(lambda: at.is_lit)
    assert at.refused == []


async def test_a_stop_before_the_book_has_it_means_that_the_lamp_never_goes_on(at):
    at.ask()
    await asyncio.sleep(0.01)
    at.hand.stop("p/3")
    assert at.refused == [("p/3", STOPPED)]
    at.book.may_write.set()
    await at.keeper.settled()
    await asyncio.sleep(0.02)
    assert not at.is_lit


async def test_a_stop_reaches_the_lamp_while_the_disk_hangs(at):
    at.book.may_write.set()
    at.ask()
    await until(lambda: at.is_lit)
    at.book.may_write.clear()
    at.keeper.give([ENTRY])
    at.hand.stop("p/3")
    assert not at.is_lit


async def test_a_book_that_refuses_refuses_the_exposure(at):
    at.book.full = True
    at.book.may_write.set()
    at.ask()
    await until(lambda: at.refused)
    assert "the disk is full" in at.refused[0][1]
    assert not at.is_lit


async def test_a_disk_that_takes_too_long_refuses_the_exposure(at, monkeypatch):
    monkeypatch.setattr(lamp_hand, "COMMIT_WITHIN_S", 0.05)
    at.ask()
    await until(lambda: at.refused)
    assert "took more than" in at.refused[0][1]
    at.book.may_write.set()
    await at.keeper.settled()
    assert not at.is_lit


async def test_an_exposure_the_switchboard_does_not_take_is_told(at):
    at.book.may_write.set()
    await at.switchboard.aclose()
    at.ask()
    await until(lambda: at.refused)
    assert "the switchboard has ended" in at.refused[0][1]


async def test_closing_lets_no_exposure_begin_any_more(at):
    at.ask()
    await at.hand.close()
    at.book.may_write.set()
    await at.keeper.settled()
    assert not at.is_lit
    assert at.refused == [("p/3", STOPPED)]
