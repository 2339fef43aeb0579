"""The switchboard as a process of its own, watched: listened to, killed when frozen, cleared up, replaced."""

from __future__ import annotations

import asyncio
import math
from asyncio.subprocess import Process
from collections import deque
from dataclasses import dataclass

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock
from firmware_py.switchboard.child import kill, last_words, start_switchboard
from firmware_py.switchboard.clearing import PinClearer
from firmware_py.switchboard.commands import Beat, Command, Configure, Expose, Leave, MakeSafe, Stop, Switch
from firmware_py.switchboard.ledger import Ledger
from firmware_py.switchboard.lines import read_report, write_line
from firmware_py.switchboard.link import Heard
from firmware_py.switchboard.reports import Alive, Leaving, Report, SwitchboardLost, SwitchboardReady
from firmware_py.switchboard.rules import check_expose, check_switch, wirings_by_name

BEAT_S = 0.25
# An unanswered beat of this age means a frozen switchboard. With one beat, the second look and the guardian,
# the lamp is off within 0.9 s; where that one is frozen too, later by the start of a fresh process.
SILENT_S = 0.5
SECOND_LOOK_S = 0.05
START_S = 15.0
GUARDIAN_START_S = 5.0
RESTARTS = 5
RESTARTS_WITHIN_S = 60.0
RESTART_PAUSE_S = 0.2


@dataclass(frozen=True, slots=True)
class _Loss:
    """Until when [boot s] the relays of a lost switchboard were on for certain, and why it is lost."""

    lit_until_s: float
    why: str = ""


class ProcessSwitchboard:
    """The relays in a process of their own; see `Switchboard` for what may be asked.

    `start` it once, from the thread that will live longest: the process ends with the thread that
    started it. When it is lost, its lines are made safe by its guardian before anybody is told, then another
    one is started, at most `RESTARTS` times a minute. Controller and switchboard lost together are the
    guardian's affair alone: see `firmware_py.switchboard.guardian`.
    """

    def __init__(self, configure: Configure, clock: Clock) -> None:
        self._configure = configure
        self._relays = wirings_by_name(configure.relays)
        self._clock = clock
        self._ledger = Ledger()
        self._listeners: list[Heard] = []
        self._clearer = PinClearer(
            configure.record,
            configure.relays,
            silence_s=configure.silence_s,
            clock=clock,
            told=self._deliver,
        )
        self._process: Process | None = None
        self._way = configure.pins
        self._heard_s = math.nan
        self._unanswered_s: float | None = None
        self._left = ""
        self._made_safe = False
        self._closing = False
        self._never = asyncio.Event()
        self._watch: asyncio.Task[None] | None = None

    async def start(self) -> None:
        """Open the relays; refuse, in one line, if the switchboard can not."""
        first = await self._launch()
        self._watch = asyncio.create_task(self._keep(first))

    @property
    def pid(self) -> int | None:
        """Get the number of the process that holds the relays; None while there is none."""
        return self._process.pid if self._process else None

    @property
    def guardian_pid(self) -> int | None:
        """Get the number of the guardian's process; None while there is none."""
        return self._clearer.pid

    @property
    def is_ready(self) -> bool:
        """Get whether relays can be energised now."""
        return self._process is not None and not self._closing

    def is_held(self) -> bool:
        """Return whether the process answers its beats or, while there is none, its lines were made safe."""
        return self._made_safe if self._process is None else not self._is_silent()

    def is_on(self, relay: str) -> bool:
        """Return whether the relay is energised, by the last report."""
        return self._ledger.is_on(relay)

    def switch(self, relay: str, on: bool) -> None:
        """Switch a relay for good."""
        command = Switch(relay, on)
        check_switch(command, self._relays)
        self._require_ready(on)
        self._send(command)

    def expose(self, exposure: str, relay: str, *, for_s: float | None, ceiling_s: float | None) -> None:
        """Energise ``relay`` for ``for_s`` [s], or until stopped."""
        command = Expose(exposure, relay, for_s, ceiling_s)
        check_expose(command, self._relays)
        self._require_ready(on=True)
        self._ledger.ask(command, self._clock.now_s())
        self._send(command)

    def stop(self, exposure: str) -> None:
        """End the exposure now."""
        self._send(Stop(exposure))

    def all_safe(self) -> None:
        """Release every relay now."""
        self._send(MakeSafe())

    def listen(self, heard: Heard) -> None:
        """Call ``heard`` with every report from now on, and at once with a lack of a guardian."""
        self._listeners.append(heard)
        if self._clearer.missing is not None:
            heard(self._clearer.missing)

    def next_due_s(self) -> float:
        """Return infinity: the process and its watch keep their own time."""
        return math.inf

    def advance(self, now_s: float) -> None:
        """Do nothing: the reports come by themselves."""

    async def aclose(self) -> None:
        """Release every relay, end the process and wait for it."""
        self._closing = True
        self._send(Leave())
        if self._watch is not None:
            await self._watch
        await self._clearer.aclose()

    # --- commands ---

    def _require_ready(self, on: bool) -> None:
        if on and not self.is_ready:
            raise Refused("the switchboard is not running", allowed="relays that are off, until it is back")

    def _send(self, command: Command) -> None:
        if self._process is None or self._process.stdin is None or self._process.stdin.is_closing():
            return
        self._process.stdin.write(write_line(command))

    # --- the watch ---

    async def _launch(self) -> Process:
        """Start a switchboard and its guardian; return when the relays are open and watched."""
        await self._clearer.stand_by(self._way)
        try:
            process = await start_switchboard(self._clearer.beats)
            first = await self._opened(process)
        except OSError as error:
            await self._clearer.aclose()
            raise Refused(f"the switchboard does not start: {error}") from error
        except BaseException:
            await self._clearer.aclose()
            raise
        self._way, self._left, self._unanswered_s = first.pins, "", None
        self._heard_s = self._clock.now_s()
        self._clearer.watch(process.pid)
        self._process = process
        self._deliver(first)
        return process

    async def _opened(self, process: Process) -> SwitchboardReady:
        assert process.stdin is not None
        assert process.stdout is not None
        # The guardian first: it is ready before any relay can be on, and no beat is due while it starts.
        await self._clearer.until_known(GUARDIAN_START_S)
        process.stdin.write(write_line(self._configure))
        try:
            first = read_report(await asyncio.wait_for(process.stdout.readline(), START_S))
            if not isinstance(first, SwitchboardReady):
                raise Refused(first.why if isinstance(first, Leaving) else f"it began with {first}")
        except (TimeoutError, ValueError) as error:
            await kill(process)
            words = str(error) or f"no answer for {START_S:g} s"
            raise Refused(f"the switchboard does not start: {words}") from error
        return first

    async def _keep(self, first: Process) -> None:
        process: Process | None = first
        losses: deque[float] = deque(maxlen=RESTARTS)
        while process is not None:
            if self._closing:
                self._send(Leave())
            loss = await self._until_lost(process)
            losses.append(self._clock.now_s())
            await self._mourn(process, loss, final=_is_spent(losses))
            process = None if _is_spent(losses) else await self._replace(losses)

    async def _replace(self, losses: deque[float]) -> Process | None:
        while not self._closing:
            await self._clock.wait_until(self._clock.now_s() + RESTART_PAUSE_S, self._never)
            try:
                return await self._launch()
            except Refused as refusal:
                losses.append(self._clock.now_s())
                self._deliver(SwitchboardLost(refusal.line, final=_is_spent(losses)))
            if _is_spent(losses):
                break
        return None

    async def _until_lost(self, process: Process) -> _Loss:
        watches = [asyncio.create_task(self._hear(process)), asyncio.create_task(self._beat())]
        try:
            done, _ = await asyncio.wait(watches, return_when=asyncio.FIRST_COMPLETED)
            return next(iter(done)).result()
        finally:
            for watch in watches:
                watch.cancel()
            await asyncio.gather(*watches, return_exceptions=True)

    async def _hear(self, process: Process) -> _Loss:
        assert process.stdout is not None
        try:
            while line := await process.stdout.readline():
                self._heard_s = self._clock.now_s()
                self._deliver(read_report(line))
        except ValueError as error:
            return _Loss(self._clock.now_s(), f"the switchboard said nonsense: {error}")
        return _Loss(self._heard_s, self._left)

    async def _beat(self) -> _Loss:
        number = 0
        while True:
            number += 1
            now_s = self._clock.now_s()
            self._unanswered_s = now_s if self._unanswered_s is None else self._unanswered_s
            self._send(Beat(number))
            self._clearer.beat()
            await self._clock.wait_until(now_s + BEAT_S, self._never)
            if not self._is_silent():
                continue
            # We may be the late one, with the answer still in the pipe: give it a chance to be read.
            await self._clock.wait_until(self._clock.now_s() + SECOND_LOOK_S, self._never)
            if self._is_silent():
                return _Loss(self._clock.now_s(), f"the switchboard is frozen: no answer for {SILENT_S:g} s")

    def _is_silent(self) -> bool:
        return self._unanswered_s is not None and self._clock.now_s() - self._unanswered_s >= SILENT_S

    async def _mourn(self, process: Process, loss: _Loss, *, final: bool) -> None:
        """Clear up after a lost switchboard, and only then tell."""
        self._process, self._made_safe = None, False
        await kill(process)
        made_safe = self._made_safe = await self._clearer.clear(self._way)
        for report in self._ledger.lose(loss.lit_until_s, self._clock.now_s()):
            self._deliver(report)
        if self._closing and made_safe:
            return
        why = loss.why or f"the switchboard died: {await last_words(process)}"
        self._deliver(SwitchboardLost(why, made_safe, final))

    def _deliver(self, report: Report) -> None:
        if isinstance(report, Alive):
            self._unanswered_s = None
            return
        if isinstance(report, Leaving):
            self._left = report.why
        self._ledger.note(report)
        for heard in self._listeners:
            try:
                heard(report)
            except Exception as error:  # noqa: BLE001 - a listener's fault must not end the watch
                context = {"message": f"a listener failed at {report}", "exception": error}
                asyncio.get_running_loop().call_exception_handler(context)


def _is_spent(losses: deque[float]) -> bool:
    return len(losses) == RESTARTS and losses[-1] - losses[0] < RESTARTS_WITHIN_S
