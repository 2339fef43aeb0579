"""A whole print session by the keys of the real Lamp page: what the book has of it, the pins saw."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.pilot import Pilot

from firmware_py.facts.views.bench import BenchView
from firmware_py.service.client import Client
from tests.faults.lamp_bench import LAMP_SETTINGS, in_the_book, is_lit, lamp, lamp_bench
from tests.service.served_bench import CLOCK, ServedBench
from tui.screen import EmbertrayScreen

SETTINGS = f"""{LAMP_SETTINGS}
[foot-switch]
long_press = "0.3 s"
"""
# Longer than the screen takes one press for another: its own clock is put forward, and nobody waits for it.
NEXT_PRESS_S = 2.0
DEADLINE_S = 30.0
# The bench's pause after each exposure, and a hair.
PAUSE_S = 0.15


class Person:
    """Somebody at the keys of the Lamp page, who sees what the page shows."""

    def __init__(self, bench: ServedBench) -> None:
        self.bench = bench
        self._ahead_s = 0.0
        self.link = Client(bench.socket)
        self.screen = EmbertrayScreen(self.link, bench.folder, read_s=lambda: CLOCK.now_s() + self._ahead_s)
        self._pilot: Pilot[None] | None = None

    @asynccontextmanager
    async def seated(self) -> AsyncIterator[Person]:
        """Sit down at the screen."""
        try:
            async with self.screen.run_test(size=(80, 24)) as self._pilot:
                yield self
        finally:
            self.link.close()

    @property
    def view(self) -> BenchView:
        """What the screen was told last."""
        assert self.screen.view is not None
        return self.screen.view

    def shown(self) -> str:
        """The page as text."""
        rows = self.screen.screen._compositor.render_strips()
        return "\n".join("".join(segment.text for segment in row) for row in rows)

    async def press(self, *keys: str) -> None:
        """Press keys, each a press of its own."""
        assert self._pilot is not None
        for key in keys:
            self._ahead_s += NEXT_PRESS_S
            await self._pilot.press(key)

    async def until(self, reached: Callable[[], bool], what: str) -> None:
        """Look again and again until it is so."""
        due_s = CLOCK.now_s() + DEADLINE_S
        while not reached():
            assert CLOCK.now_s() < due_s, f"{what} never came; the screen shows:\n{self.shown()}"
            await asyncio.sleep(0.03)

    async def until_shown(self, *words: str) -> None:
        """Look until the page shows all of it."""
        await self.until(lambda: all(one in self.shown() for one in words), repr(words))

    async def light(self) -> None:
        """Press Space once the lamp's pause is over; wait until its pin is on."""
        before = lamp(self.bench)
        ready_s = max((span.off_s for span in before), default=0.0) + PAUSE_S
        await self.until(lambda: CLOCK.now_s() > ready_s, "the end of the lamp's pause")
        await self.press("space")
        await self.until(lambda: len(lamp(self.bench)) > len(before), "light")

    async def expose(self) -> None:
        """Light the lamp and wait until it is out, in the book as on the pin."""
        await self.light()
        await self.until_dark()

    async def until_dark(self) -> None:
        """Wait until the lamp is out on the pin, and the page knows."""
        await self.until(lambda: not is_lit(self.bench), "darkness")
        await self.until(lambda: self.view.lamp.state == "dark", "a dark lamp on the page")


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[ServedBench]:
    with lamp_bench(tmp_path, SETTINGS) as running:
        running.client()
        yield running


async def test_a_whole_session_on_the_page_is_in_the_book_as_the_pins_saw_it(bench: ServedBench):
    """Strip of seven, a choice, three prints with a burn, one of them stopped half-way and completed."""
    async with Person(bench).seated() as person:
        await open_a_print(person)
        await make_a_strip(person)
        await choose_and_plan(person)
        for _ in range(2):
            await person.expose()
            await person.expose()
        await stop_half_way_and_give_the_rest(person)
        await person.until_shown("Prints: 3 made, 0 left", "NOT NOW: all the prints wanted are made")
        await give_one_more_up_by_a_long_press(person)
    await asyncio.to_thread(judge, bench)


async def open_a_print(person: Person) -> None:
    await person.until_shown("No plate on the bench")
    await person.press("right", "enter", *"skarn", "enter", *"bromide", "enter")
    await person.until_shown("LAMP  FOOT HERE", "skarn   bromide   600 mm", "Base: not set")


async def make_a_strip(person: Person) -> None:
    await person.press("t", "1", *"0.3", "enter")
    await person.until_shown("Leave all of it open, then the foot", "lamp on: strip, exposure 1 of 7")
    for done in range(1, 7):
        await person.expose()
        covered = "patch 1" if done == 1 else f"patches 1 to {done}"
        await person.until_shown(f"Cover {covered}, then the foot", f"Strip 0.5 stop: {done} of 7")
    await person.expose()
    await person.until_shown(
        "Strip 0.5 stop: done", "NOT NOW: no exposure time is set. To do: choose a patch"
    )


async def choose_and_plan(person: Person) -> None:
    await person.press("7")
    await person.until_shown("CHOSEN", ", patch 7", "lamp on: base")
    await person.press("u", *"1/2", "space", *"sky", "enter")
    await person.until_shown("Burn sky +0.5 stop")
    await person.press("r", "3", "enter")
    await person.until_shown("Prints: 0 made, 3 left")


async def stop_half_way_and_give_the_rest(person: Person) -> None:
    await person.light()
    await person.press("space")
    await person.until_dark()
    await person.until_shown("BROKEN OFF: base wants its rest", "Foot, or Space: give the rest of base")
    await person.expose()
    await person.until_shown("lamp on: burn 1 (sky, 1/2 stop)")
    await person.expose()


async def give_one_more_up_by_a_long_press(person: Person) -> None:
    """The key for it lasts as long as this bench wants: a third of a second, not its usual eight tenths."""
    await person.press("r", "1", "enter")
    await person.until_shown("lamp on: base")
    await person.light()
    await person.press("f")
    await person.until_dark()
    await person.until_shown("Sheet 5 is given up")


def judge(bench: ServedBench) -> None:
    """Hold the book against the pins' own record, exposure by exposure."""
    came, lit = in_the_book(bench), lamp(bench)
    exposures = [e for sheet in came.sheets for e in sheet.exposures]
    assert len(exposures) == len(lit) == 7 + 2 + 2 + 3 + 1
    for exposure, span in zip(exposures, lit, strict=True):
        # Stamps of one process a moment apart; a tenth covers a core that is taken away in between.
        assert exposure.measured_s == pytest.approx(span.off_s - span.on_s, abs=0.1)
        assert not exposure.estimated
    assert came.prints == 3
    assert [e.ended for e in exposures].count("stopped") == 2
    assert came.chosen_patch == 7.0
    base_s = came.base_s or 0.0
    for sheet in came.sheets[1:4]:
        assert sheet.effective_s == pytest.approx(2.0**0.5 * base_s, abs=0.1)
    assert came.sheets[4].ended == "given up"
