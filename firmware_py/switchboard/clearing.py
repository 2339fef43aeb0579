"""Making the lines safe after a switchboard is lost: by a process that stands by, else by a fresh one."""

from __future__ import annotations

import asyncio
import contextlib
import json
from asyncio.subprocess import DEVNULL, PIPE, Process

from firmware_py.switchboard.child import kill, python_process
from firmware_py.switchboard.commands import RelayWiring
from firmware_py.switchboard.make_safe import STAND_BY, words_for

# A start of Python takes a small board a second and more, in which the lamp stays lit; one that has started
# needs some milliseconds. One that has, and does not act in this time, is frozen itself.
STANDBY_S = 0.3
FRESH_S = 2.0
FRESH_TRIES = 3
# A standby that dies again and again has a reason; a fresh process is tried in its place when it is needed.
STANDBY_DEATHS = 5


class PinClearer:
    """Drives the lines to their safe level on request, with a process kept ready for it.

    The process that stands by holds no line until it is told, and ends with its owner. Each is used once;
    a dead one is replaced. Where it is dead or frozen just when it is needed, a fresh one is started.
    """

    def __init__(self, record: str | None, relays: tuple[RelayWiring, ...]) -> None:
        self._record = record
        self._levels = {wiring.pin: not wiring.active_high for wiring in relays if wiring.pin is not None}
        self._standby: Process | None = None
        self._watch: asyncio.Task[None] | None = None
        self._is_ready = False
        self._deaths = 0

    @property
    def pid(self) -> int | None:
        """Get the number of the process that stands by, if one does."""
        return self._standby.pid if self._standby is not None else None

    @property
    def is_ready(self) -> bool:
        """Get whether a process stands by that has loaded all it needs."""
        return self._standby is not None and self._is_ready

    async def stand_by(self, way: str) -> None:
        """See to it that a process stands by, that knows the ``way`` to the pins; it is ready soon after."""
        if self._levels and self._standby is None:
            with contextlib.suppress(OSError):  # then there is none
                self._standby = await _start([STAND_BY, way], stdin=PIPE, stdout=PIPE)
                self._is_ready = False
                self._watch = asyncio.create_task(self._watch_over(self._standby, way))

    async def clear(self, way: str) -> bool:
        """Return whether every line has been driven to its safe level."""
        if not self._levels:
            return True
        words = words_for(way, self._record, self._levels)
        if await self._by_standby(words):
            return True
        for _ in range(FRESH_TRIES):
            with contextlib.suppress(OSError):  # no process to be had just now: try again
                if await _ended_well(await _start(words, stdin=DEVNULL, stdout=DEVNULL), FRESH_S):
                    return True
        return False

    async def aclose(self) -> None:
        """Send the process that stands by away."""
        if (standby := self._take()) is not None:
            await kill(standby)

    async def _by_standby(self, words: list[str]) -> bool:
        if (standby := self._take()) is None or standby.stdin is None:
            return False
        with contextlib.suppress(OSError):
            standby.stdin.write(json.dumps(words).encode("ascii") + b"\n")
        # One that is still starting is ahead of any that would be started now.
        return await _ended_well(standby, STANDBY_S if self._is_ready else FRESH_S)

    def _take(self) -> Process | None:
        if self._watch is not None:
            self._watch.cancel()
        standby, self._standby, self._watch = self._standby, None, None
        return standby

    async def _watch_over(self, standby: Process, way: str) -> None:
        """Note when the process is ready; replace it when it dies."""
        assert standby.stdout is not None
        self._is_ready = bool(await standby.stdout.readline())
        await standby.wait()
        self._standby = None
        self._deaths += 1
        if self._deaths < STANDBY_DEATHS:
            await self.stand_by(way)


async def _start(words: list[str], *, stdin: int, stdout: int) -> Process:
    return await python_process(
        "firmware_py.switchboard.make_safe", *words, stdin=stdin, stdout=stdout, stderr=DEVNULL
    )


async def _ended_well(process: Process, within_s: float) -> bool:
    try:
        return await asyncio.wait_for(process.wait(), within_s) == 0
    except TimeoutError:
        await kill(process)
        return False
