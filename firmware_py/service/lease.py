"""What a client lights, it keeps lit by living: a screen that dies or freezes puts its exposure out.

A foot on the real switch needs no screen and is not bound to one. A run is never touched: only the lamp.
"""

from __future__ import annotations

import asyncio
from contextlib import suppress

from firmware_py.bench.controller import Controller
from firmware_py.devices.clock import BootClock
from firmware_py.service.messages import SILENT_S

# One that never beats (a script) is bound by its line alone.
LOOK_S = 0.1


class Lease:
    """One client's hold on the printing lamp."""

    def __init__(self, controller: Controller) -> None:
        self._controller = controller
        self._clock = BootClock()
        self._heard_s: float | None = None
        self._exposure: str | None = None
        self._watch: asyncio.Task[None] | None = None

    def beat(self) -> None:
        """Take in that the client lives."""
        self._heard_s = self._clock.now_s()

    def look(self, before: str | None) -> None:
        """See whether the client's act lit the lamp, where ``before`` was what it was lit for until then."""
        now = self._controller.lit_for
        if now is None or now == before:
            return
        self._exposure = now
        if self._watch is None or self._watch.done():
            self._watch = asyncio.get_running_loop().create_task(self._see_that_it_lives())

    def holds(self) -> bool:
        """Return whether the lamp is lit for the client."""
        return self._exposure is not None and self._controller.lit_for == self._exposure

    def end(self) -> None:
        """Let go: the client has gone, and its exposure with it."""
        if self._watch is not None:
            self._watch.cancel()
        self._put_out("a screen that has gone")

    async def _see_that_it_lives(self) -> None:
        with suppress(asyncio.CancelledError):
            while self._exposure is not None and self._controller.lit_for == self._exposure:
                if self._is_silent():
                    self._put_out("a screen that does not answer")
                    return
                await asyncio.sleep(LOOK_S)
            self._exposure = None

    def _is_silent(self) -> bool:
        return self._heard_s is not None and self._clock.now_s() >= self._heard_s + SILENT_S

    def _put_out(self, by: str) -> None:
        exposure, self._exposure = self._exposure, None
        if exposure is not None:
            self._controller.put_out(exposure, by)
