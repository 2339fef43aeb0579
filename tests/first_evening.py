"""The manual's first evening, pressed key by key on the real screen, at a simulated bench: run by `.ci/run`.

python -m tests.first_evening
"""

from __future__ import annotations

import asyncio
import re
import tempfile
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager
from pathlib import Path

from textual.pilot import Pilot

from docs.made.parts import PAGES
from firmware_py.facts.acts.run import AnyAct
from firmware_py.journal.store import Journal
from firmware_py.rehearsal.rehearsal import RehearsalPlan
from firmware_py.service.client import Client
from firmware_py.service.serving import rehearse
from tests.service.served_bench import CLOCK
from tui.pages.lamp.words import is_exposing
from tui.screen import EmbertrayScreen

# As fast as leaves the second plate, and each rinse, in its bath until the next keys are pressed.
SPEED = 10.0
NEXT_PRESS_S = 2.0
# The lamp's pause after each exposure, and a hair: of the bench's seconds.
PAUSE_S = 0.6
DEADLINE_S = 20.0
NAMES = {"Enter": "enter", "Space": "space", "↑": "up", "↓": "down"}


def key_lines() -> list[str]:
    """Return what is to be pressed, line by line."""
    text = (PAGES / "first-evening.md").read_text(encoding="utf-8")
    blocks = re.findall(r"^```keys\n(.*?)^```", text, flags=re.MULTILINE | re.DOTALL)
    return [re.split(r"  +", line)[0] for block in blocks for line in block.splitlines()]


def keys_in(line: str) -> Iterator[list[str]]:
    """Give the presses of a line; a text in quotes is typed in one go."""
    for text, key in re.findall(r'"([^"]*)"|(\S+)', line):
        yield [{" ": "space"}.get(sign, sign) for sign in text] if text else [NAMES.get(key, key.lower())]


class CountingClient(Client):
    """A line to the bench that counts what is asked of it."""

    done = 0

    async def do(self, act: AnyAct) -> None:
        """Ask for an act."""
        self.done += 1
        await super().do(act)


class Evening:
    """A person with the manual beside the screen."""

    def __init__(self, folder: Path) -> None:
        self._ahead_s = 0.0
        self._link = CountingClient(folder / "socket")
        self.screen = EmbertrayScreen(self._link, folder, read_s=lambda: CLOCK.now_s() + self._ahead_s)
        self._pilot: Pilot[None] | None = None

    @asynccontextmanager
    async def begun(self) -> AsyncIterator[Evening]:
        """Sit down at the screen, once there is a bench on it."""
        try:
            async with self.screen.run_test(size=(80, 24)) as self._pilot:
                await self._until_seen(lambda: bool(self.screen.view and self.screen.view.formulas))
                yield self
        finally:
            self._link.close()

    async def press(self, line: str) -> None:
        """Press the keys of a line, each when the bench has done what the one before asked for."""
        assert self._pilot is not None
        for keys in keys_in(line):
            asked, seen, lit = self._link.done, self.screen.view, self._lit()
            self._ahead_s += NEXT_PRESS_S
            await self._pilot.press(*keys)
            await self._until_seen(self._is_idle)
            if self._link.done > asked:
                await self._until_seen(lambda seen=seen: self.screen.view is not seen)  # type: ignore[misc]
            if keys == ["space"]:
                await self._until_exposed(lit)
            said = self.shown()
            assert "No: " not in said, f"{line}: {keys}\n{said}"

    def _lit(self) -> tuple[str, int]:
        """Return what the lamp gives next, and how many sheets are done: an exposure changes one of them."""
        view = self.screen.view
        assert view is not None
        return view.lamp.next, len(view.print.finished) if view.print is not None else 0

    async def _until_exposed(self, before: tuple[str, int]) -> None:
        """Wait until an exposure is over, and the lamp's pause after it."""
        await self._until_seen(lambda: self._lit() != before and not is_exposing(self.screen.view))
        ready_s = CLOCK.now_s() + PAUSE_S / SPEED
        await self._until_seen(lambda: CLOCK.now_s() > ready_s)

    def _is_idle(self) -> bool:
        """Return whether the bench has answered all that the screen asked of it."""
        return not any(worker.is_running for worker in self.screen.workers if worker.name != "watch")

    async def _until_seen(self, so: Callable[[], bool]) -> None:
        """Look again and again until it is so."""
        due_s = CLOCK.now_s() + DEADLINE_S
        while not so():
            assert CLOCK.now_s() < due_s, self.shown()
            await asyncio.sleep(0.02)

    def shown(self) -> str:
        """Return the page as text."""
        rows = self.screen.screen._compositor.render_strips()
        return "\n".join("".join(segment.text for segment in row) for row in rows)


async def play(tmp_path: Path) -> None:
    """Press every key of the manual's first evening, and hold against it what the book has of it."""
    book = tmp_path / "journal.db"
    bench = asyncio.create_task(rehearse(RehearsalPlan(journal=book, speed=SPEED), tmp_path / "socket"))
    async with Evening(tmp_path).begun() as evening:
        for line in key_lines():
            await evening.press(line)
        assert evening.screen.view is not None
        plates = {plate.name: plate for plate in evening.screen.view.plates.plates}
        printed = evening.screen.view.print
    bench.cancel()
    await asyncio.gather(bench, return_exceptions=True)
    assert {name: plate.stage for name, plate in plates.items()} == {"spring/1": "dry", "spring/2": "washed"}
    noted = [plate.exposure for plate in plates.values() if plate.exposure is not None]
    assert [(one.subject, one.time_s, one.lighting) for one in noted] == [
        ("boats", 0.5, "side"),
        ("lighthouse", 0.25, "side"),
    ]
    assert printed is not None
    assert (printed.negative, [sheet.kind for sheet in printed.finished]) == ("spring/1", ["strip", "print"])
    with Journal.open(book) as journal:
        events = [entry.event for subject in journal.subjects() for entry in journal.read(subject)]
    kinds = [type(event).__name__ for event in events]
    assert {kind: kinds.count(kind) for kind in ("BathMade", "RunOpened", "PlateJudged", "SheetBathed")} == {
        "BathMade": 2,
        "RunOpened": 4,
        "PlateJudged": 2,
        "SheetBathed": 2,
    }


def main() -> None:
    """Press them in a folder of its own."""
    began_s = CLOCK.now_s()
    with tempfile.TemporaryDirectory(prefix="embertray-") as folder:
        asyncio.run(play(Path(folder)))
    print(f"{len(key_lines())} lines of keys, and all came out as told: {CLOCK.now_s() - began_s:.0f} s")


if __name__ == "__main__":
    main()
