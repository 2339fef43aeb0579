"""One commissioning under way: person, gear, the draft of bench.toml, and what the report will say."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, field

from firmware_py.craft.refusal import Refused
from firmware_py.service.commissioning.draft import Draft
from firmware_py.service.commissioning.gear import Gear
from firmware_py.service.commissioning.person import Person
from firmware_py.switchboard.reports import CommandRefused, ExposureEnded, Report

# How long beyond its time the word of an exposure's end may take before it is given up.
PATIENCE_S = 5.0


@dataclass(slots=True)
class Session:
    """What every step works with; with ``relays_changed`` the gear is wired otherwise than it was opened."""

    person: Person
    gear: Gear
    draft: Draft
    found: list[tuple[str, list[str]]] = field(default_factory=list)
    relays_changed: bool = False

    def begin(self, step: str) -> None:
        """Begin a step, on the screen and in the report."""
        self.found.append((step, []))
        self.person.say(f"\n== {step}")

    def note(self, words: str) -> None:
        """Show words and write them into the report."""
        self.person.say(words)
        self.found[-1][1].append(words)

    def put(self, *path_and_value: object) -> None:
        """Change the draft; what does not fit the rest of the file is said, and left out."""
        try:
            self.draft.put(*path_and_value)
        except Refused as refusal:
            self.note(f"Not written: {refusal.line}")

    async def wait(self, seconds: float) -> None:
        """Let time pass, and the switchboard speak."""
        clock = self.gear.clock
        await self._advance_until(clock.now_s() + seconds)

    async def expose(self, relay: str, for_s: float, name: str) -> ExposureEnded:
        """Light a relay for ``for_s`` [s]; return how long it really was. Raises Refused where it was not."""
        heard: list[Report] = []
        board = self.gear.switchboard
        board.listen(heard.append)
        board.expose(name, relay, for_s=for_s, ceiling_s=for_s + 1.0)
        deadline_s = self.gear.clock.now_s() + for_s + PATIENCE_S
        while self.gear.clock.now_s() < deadline_s:
            for report in heard:
                if isinstance(report, ExposureEnded) and report.id == name:
                    if not report.measured:
                        raise Refused("the switchboard was lost in the middle", where=relay)
                    return report
                if isinstance(report, CommandRefused) and report.id == name:
                    raise Refused(report.words, where=relay)
            await self._advance_until(self.gear.clock.now_s() + 0.02)
        board.stop(name)
        raise Refused("the switchboard did not say that it went off", where=relay)

    async def switch_for(self, relay: str, seconds: float) -> None:
        """Switch a relay on, and off again after ``seconds`` [s]."""
        self.gear.switchboard.switch(relay, on=True)
        try:
            await self.wait(seconds)
        finally:
            self.gear.switchboard.switch(relay, on=False)
        await self.wait(seconds)

    async def _advance_until(self, due_s: float) -> None:
        clock, board = self.gear.clock, self.gear.switchboard
        while (now_s := clock.now_s()) < due_s:
            board.advance(now_s)
            await clock.wait_until(min(due_s, max(board.next_due_s(), now_s + 0.001)), asyncio.Event())
        board.advance(clock.now_s())
