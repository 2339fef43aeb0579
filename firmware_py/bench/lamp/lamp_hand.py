"""The controller's hand on the lamp: lights it once the announcement is in the book, puts it out at once."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from contextlib import suppress

from firmware_py.bench.book_keeper import BookKeeper
from firmware_py.bench.effects import Expose
from firmware_py.bench.lamp.printing import COMMIT_WITHIN_S
from firmware_py.craft.refusal import Refused
from firmware_py.switchboard.link import Switchboard

STOPPED = "it was stopped before the lamp went on"


class LampHand:
    """Tells ``refused`` (exposure, why) of every exposure that does not take place."""

    def __init__(
        self, switchboard: Switchboard, keeper: BookKeeper, refused: Callable[[str, str], None]
    ) -> None:
        self._switchboard = switchboard
        self._keeper = keeper
        self._refused = refused
        self._waiting: dict[str, asyncio.Task[None]] = {}

    def expose(self, wanted: Expose) -> None:
        """Light the lamp once everything written so far is on the disk; refuse where that takes too long."""
        if self._keeper.is_settled:
            self._light(wanted)
            return
        task = asyncio.get_running_loop().create_task(self._expose_when_kept(wanted))
        self._waiting[wanted.exposure] = task

    def stop(self, exposure: str) -> None:
        """End an exposure now, or see that it never begins. This waits for nothing."""
        self._switchboard.stop(exposure)
        task = self._waiting.pop(exposure, None)
        if task is not None:
            task.cancel()
            self._refused(exposure, STOPPED)

    async def close(self) -> None:
        """Let no exposure begin any more."""
        for exposure in list(self._waiting):
            task = self._waiting[exposure]
            self.stop(exposure)
            with suppress(asyncio.CancelledError):
                await task

    async def _expose_when_kept(self, wanted: Expose) -> None:
        why = ""
        try:
            await asyncio.wait_for(self._keeper.settled(), COMMIT_WITHIN_S)
        except TimeoutError:
            why = f"the journal took more than {COMMIT_WITHIN_S:g} s"
        except Refused as refusal:
            why = refusal.line
        if self._waiting.pop(wanted.exposure, None) is None:
            return
        if why:
            self._refused(wanted.exposure, f"it could not be announced in the journal: {why}")
        else:
            self._light(wanted)

    def _light(self, wanted: Expose) -> None:
        try:
            self._switchboard.expose(
                wanted.exposure, wanted.relay, for_s=wanted.for_s, ceiling_s=wanted.ceiling_s
            )
        except Refused as refusal:
            self._refused(wanted.exposure, refusal.line)
