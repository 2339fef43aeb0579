"""Opens the screen on a sample bench, headless, and reads what it shows."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from rich.segment import Segment
from textual.events import Key
from textual.keys import _character_to_key
from textual.pilot import Pilot

from tests.tui.sample_bench import SampleLink
from tui.pages.shared.page_names import PageName
from tui.screen import EmbertrayScreen
from tui.typing_guard import TypingGuard

# A key is handled by the page, may open a form, which is mounted, focused, and then drawn: each is a round.
ROUNDS = 4
SIGNS = {"space": " "}


class Stage:
    """A screen that is shown to nobody."""

    def __init__(self, screen: EmbertrayScreen, link: SampleLink, pilot: Pilot[None]) -> None:
        self.screen = screen
        self.link = link
        self.pilot = pilot

    async def press(self, *keys: str) -> None:
        """Press keys one after the other, each when the one before has done its work."""
        for key in keys:
            self.screen.post_message(key_pressed(key))
            await self.settle()

    def rest(self) -> None:
        """Let no key be near the one before: as after a second in which nobody touches a key."""
        self.screen._pressed.clear()
        self.screen._keys._guard = TypingGuard()

    async def show(self, *views) -> None:
        for view in views:
            self.link.show(view)
        await self.settle()

    async def turn_to(self, page: PageName) -> None:
        """Turn to a page, and wait until it is drawn in full."""
        self.screen.turn_to(page)
        await self.settle()
        while not self.text().startswith(f" {page.upper()} "):
            await self.settle()
        await self.settle()

    async def settle(self) -> None:
        """Let every message be handled, those that follow from them, and the drawing.

        By turns of the queues, not by the clock: the pilot's own way, to sleep until the process seems idle,
        costs 40 ms for each key, and more on a busy machine.
        """
        for _ in range(ROUNDS):
            await self.pilot.pause(0)

    def segments(self) -> list[list[Segment]]:
        """The picture as it would go to the terminal: every segment of every row."""
        return [list(strip) for strip in self.screen.screen._compositor.render_strips()]

    def text(self) -> str:
        return "\n".join("".join(segment.text for segment in row) for row in self.segments())


def key_pressed(key: str) -> Key:
    """The event of a key by its name, or by the sign it types."""
    sign = SIGNS.get(key, key if len(key) == 1 else None)
    return Key(_character_to_key(key) if len(key) == 1 else key, sign)


@asynccontextmanager
async def stage(folder, *views, size=(80, 24), own_s=None, start=None, rule=None) -> AsyncIterator[Stage]:
    """Open the screen with ``views`` already on the line; with ``own_s`` its clock stands still there.

    ``own_s`` may also be a clock of the test's own; ``start`` starts a controller; ``rule`` is the settings'.
    """
    link = SampleLink(*views)
    read_s = own_s if own_s is None or callable(own_s) else lambda: own_s
    screen = EmbertrayScreen(link, folder, read_s=read_s, start=start, rule=rule)
    async with screen.run_test(size=size) as pilot:
        on_stage = Stage(screen, link, pilot)
        await on_stage.settle()
        while not on_stage.text().strip():
            await on_stage.settle()
        yield on_stage
