"""Making the lines safe after a switchboard is lost: by its guardian, else by a fresh process."""

from __future__ import annotations

import asyncio
import contextlib
import os
import signal
from asyncio.subprocess import DEVNULL, PIPE, Process
from collections.abc import Callable
from itertools import chain, repeat

from firmware_py.devices.clock import Clock
from firmware_py.switchboard.child import kill, python_process
from firmware_py.switchboard.commands import RelayWiring
from firmware_py.switchboard.guardian import READY, WATCH
from firmware_py.switchboard.make_safe import words_for
from firmware_py.switchboard.reports import GuardianLost, GuardianReady, Report

# A start of Python takes a small board a second and more, in which the lamp stays lit; a guardian that has
# started needs some milliseconds. One that does not act in this time is frozen itself.
GUARDIAN_S = 0.3
FRESH_S = 4.0
FRESH_TRIES = 3
# A guardian that answers no beat for so long is frozen, and replaced.
SILENT_S = 1.0
# One that dies again and again has a reason: it is tried again after ever longer pauses, the last for ever.
PAUSES_S = (0.0, 0.2, 1.0, 5.0)


class PinClearer:
    """Keeps a guardian for each switchboard and, once that is lost, sees to it that its lines are safe.

    For each switchboard: `stand_by`, start it with `beats`, `watch` it, `beat` as long as the controller
    lives, and `clear` once it has gone. A guardian that dies or freezes is replaced; that and its being
    there again is told to ``told``, and ``missing`` as long as there is none. Where it fails just when it is
    needed, a fresh process is started.
    """

    def __init__(
        self,
        record: str | None,
        relays: tuple[RelayWiring, ...],
        *,
        silence_s: float,
        clock: Clock,
        told: Callable[[Report], None],
    ) -> None:
        self._record = record
        self._levels = {wiring.pin: not wiring.active_high for wiring in relays if wiring.pin is not None}
        self._silence_s = silence_s
        self._clock = clock
        self._told = told
        self._pipe: list[int] = []
        self.missing: GuardianLost | None = None
        self._switchboard: int | None = None
        self._guardian: Process | None = None
        self._keeping: asyncio.Task[None] | None = None
        self._is_loaded = False
        self._known = asyncio.Event()
        self._unanswered_s: float | None = None

    @property
    def pid(self) -> int | None:
        """Get the number of the guardian's process, if there is one."""
        return self._guardian.pid if self._guardian is not None else None

    @property
    def is_ready(self) -> bool:
        """Get whether there is a guardian that has loaded all it needs."""
        return self._guardian is not None and self._is_loaded

    @property
    def beats(self) -> int | None:
        """Get the end of the pipe that the next switchboard writes its signs of life into."""
        return self._pipe[1] if len(self._pipe) == 2 else None

    async def stand_by(self, way: str) -> None:
        """Start a guardian for the next switchboard, that knows the ``way`` to the pins."""
        await self.aclose()
        self._known.clear()
        if self._levels:
            self._pipe = list(os.pipe2(os.O_CLOEXEC))
            self._keeping = asyncio.create_task(self._keep(way, self._pipe[0]))

    async def until_known(self, within_s: float) -> None:
        """Return when the guardian is ready or cannot be had, after ``within_s`` [s] at the latest."""
        if self._levels:
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(self._known.wait(), within_s)

    def watch(self, pid: int) -> None:
        """Have the switchboard ``pid`` watched, which has just opened its relays."""
        if self._pipe:
            # The switchboard alone holds this end now: the pipe ends with it.
            os.close(self._pipe.pop())
            self._switchboard = pid
            self._name_switchboard()

    def beat(self) -> None:
        """Tell the guardian that the controller lives; one that does not answer is killed, and replaced."""
        if self._guardian is None or not self._is_loaded:
            return
        now_s = self._clock.now_s()
        self._unanswered_s = now_s if self._unanswered_s is None else self._unanswered_s
        self._tell("beat\n")
        if now_s - self._unanswered_s >= SILENT_S:
            with contextlib.suppress(ProcessLookupError):
                os.kill(self._guardian.pid, signal.SIGKILL)

    async def clear(self, way: str) -> bool:
        """Return whether every line has been driven to its safe level, by whomever."""
        if not self._levels:
            return True
        patience_s = self._patience_s()
        guardian = await self._let_go()
        if guardian is not None and await _ended_well(guardian, patience_s):
            return True
        words = words_for(way, self._record, self._levels)
        for _ in range(FRESH_TRIES):
            with contextlib.suppress(OSError):  # no process to be had just now: try again
                if await _ended_well(await _start_fresh(words), FRESH_S):
                    return True
        return False

    async def aclose(self) -> None:
        """Send the guardian away."""
        if (guardian := await self._let_go()) is not None:
            await kill(guardian)

    # --- the guardian ---

    async def _keep(self, way: str, beats: int) -> None:
        """Have a guardian there until it has done its work; say when it is lost, and when it is there."""
        for pause_s in chain(PAUSES_S, repeat(PAUSES_S[-1])):
            try:
                why = await self._guard(await self._start_guardian(way, beats))
            except OSError as error:
                why = f"it cannot be started: {error.strerror}"
            if not why:
                return
            self.missing = GuardianLost(why)
            self._told(self.missing)
            self._known.set()
            await self._clock.wait_until(self._clock.now_s() + pause_s, asyncio.Event())

    async def _guard(self, guardian: Process) -> str:
        """Listen to a guardian until it ends; return why it did so, nothing if it has done its work."""
        self._guardian, self._unanswered_s = guardian, None
        self._is_loaded = False
        self._name_switchboard()
        assert guardian.stdout is not None
        while word := await guardian.stdout.readline():
            self._unanswered_s = None
            if word == READY:
                self._is_ready_now()
        if await guardian.wait() == 0:
            return ""
        self._guardian, self._is_loaded = None, False
        return f"it ended with {guardian.returncode}"

    def _is_ready_now(self) -> None:
        self._is_loaded = True
        if self.missing is not None:
            self.missing = None
            self._told(GuardianReady())
        self._known.set()

    async def _start_guardian(self, way: str, beats: int) -> Process:
        words = words_for(way, self._record, self._levels)
        return await python_process(
            *("firmware_py.switchboard.guardian", str(beats), repr(self._silence_s), *words),
            stdin=PIPE,
            stdout=PIPE,
            stderr=DEVNULL,
            pass_fds=(beats,),
        )

    def _name_switchboard(self) -> None:
        if self._switchboard is not None:
            self._tell(f"{WATCH}{self._switchboard}\n")

    def _tell(self, line: str) -> None:
        if self._guardian is not None and self._guardian.stdin is not None:
            with contextlib.suppress(OSError):
                self._guardian.stdin.write(line.encode("ascii"))

    def _patience_s(self) -> float:
        """Return how long [s] the guardian may take to end, once the switchboard has."""
        if not self._is_loaded:
            return FRESH_S  # one that is still starting is ahead of any that would be started now
        silent = self._unanswered_s is not None and self._clock.now_s() - self._unanswered_s >= GUARDIAN_S
        return 0.0 if silent else GUARDIAN_S

    async def _let_go(self) -> Process | None:
        """End keeping a guardian, and return the last one."""
        if self._keeping is not None:
            self._keeping.cancel()
            await asyncio.gather(self._keeping, return_exceptions=True)
        guardian, self._guardian, self._keeping = self._guardian, None, None
        for end in self._pipe:
            os.close(end)
        self._pipe, self._switchboard = [], None
        return guardian


async def _start_fresh(words: list[str]) -> Process:
    return await python_process(
        "firmware_py.switchboard.make_safe", *words, stdin=DEVNULL, stdout=DEVNULL, stderr=DEVNULL
    )


async def _ended_well(process: Process, within_s: float) -> bool:
    try:
        return await asyncio.wait_for(process.wait(), within_s) == 0
    except TimeoutError:
        await kill(process)
        return False
