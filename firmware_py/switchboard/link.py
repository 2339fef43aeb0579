"""The controller's side of the switchboard: what the bench may ask, and the body used in rehearsals."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Protocol

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock
from firmware_py.switchboard.board import Board
from firmware_py.switchboard.commands import Command, Expose, MakeSafe, RelayWiring, Stop, Switch
from firmware_py.switchboard.reports import ExposureEnded, Report, SwitchboardLost, SwitchboardReady
from firmware_py.switchboard.rules import check_expose, check_switch, wirings_by_name

Heard = Callable[[Report], None]


class Switchboard(Protocol):
    """The relays, as the bench sees them.

    Nothing here waits. What is plainly not allowed is refused at once (`Refused`); what really happened
    comes later, as reports to every listener, never from inside the call that asked. A command that the
    state of the relay forbids is answered with `CommandRefused`. Releasing is never refused.
    """

    @property
    def is_ready(self) -> bool:
        """Get whether relays can be energised now."""
        ...

    def is_held(self) -> bool:
        """Return whether no relay can be on unknown to us: it answers its beats, or all were made safe."""
        ...

    def is_on(self, relay: str) -> bool:
        """Return whether the relay is energised, by the last report."""
        ...

    def switch(self, relay: str, on: bool) -> None:
        """Switch a relay for good; ask for *on* again before its limit to keep it on."""
        ...

    def expose(self, exposure: str, relay: str, *, for_s: float | None, ceiling_s: float | None) -> None:
        """Energise ``relay`` for ``for_s`` [s], or until stopped (None), never beyond ``ceiling_s`` [s]."""
        ...

    def stop(self, exposure: str) -> None:
        """End the exposure now; one that has ended already is left alone."""
        ...

    def all_safe(self) -> None:
        """Release every relay now."""
        ...

    def listen(self, heard: Heard) -> None:
        """Call ``heard`` with every report from now on."""
        ...

    def next_due_s(self) -> float:
        """Return when [boot s] `advance` must be called next; infinite if never."""
        ...

    def advance(self, now_s: float) -> None:
        """Do what is due by ``now_s`` [boot s] and hand out the reports."""
        ...

    async def aclose(self) -> None:
        """Release every relay and end."""
        ...


class InProcessSwitchboard:
    """The same board on simulated relays and any clock, for rehearsals and tests.

    It is exact: a relay goes off at its deadline, however late `advance` is called.
    """

    def __init__(self, relays: tuple[RelayWiring, ...], clock: Clock) -> None:
        self._wirings = relays
        self._relays = wirings_by_name(relays)
        self._clock = clock
        self._moment_s = clock.now_s()
        self._listeners: list[Heard] = []
        self._waiting: list[Report] = [SwitchboardReady("simulated", realtime=False, locked=False)]
        self._board = self._new_board()

    @property
    def is_ready(self) -> bool:
        """Get whether relays can be energised now."""
        return self._board.left is None

    def is_held(self) -> bool:
        """Return True: arithmetic does not run away."""
        return True

    def is_on(self, relay: str) -> bool:
        """Return whether the relay is energised."""
        return self._board.is_on(relay)

    def switch(self, relay: str, on: bool) -> None:
        """Switch a relay for good."""
        command = Switch(relay, on)
        check_switch(command, self._relays)
        self._take(command)

    def expose(self, exposure: str, relay: str, *, for_s: float | None, ceiling_s: float | None) -> None:
        """Energise ``relay`` for ``for_s`` [s], or until stopped."""
        command = Expose(exposure, relay, for_s, ceiling_s)
        check_expose(command, self._relays)
        self._take(command)

    def stop(self, exposure: str) -> None:
        """End the exposure now."""
        self._take(Stop(exposure))

    def all_safe(self) -> None:
        """Release every relay now."""
        self._take(MakeSafe())

    def listen(self, heard: Heard) -> None:
        """Call ``heard`` with every report from now on."""
        self._listeners.append(heard)

    def next_due_s(self) -> float:
        """Return when [boot s] `advance` must be called next: at once while reports wait."""
        return self._clock.now_s() if self._waiting else self._board.next_due_s()

    def advance(self, now_s: float) -> None:
        """Do what is due by ``now_s`` [boot s], each thing at its own moment, and hand out the reports."""
        self._catch_up(now_s)
        reports, self._waiting = self._waiting, []
        for report in reports:
            for heard in self._listeners:
                heard(report)

    def lose(self, why: str, *, doubt_s: float = 0.05) -> None:
        """Play the death of the switchboard: the relays fall to safe, and another one starts.

        An exposure that it ends is reported as the real link would: estimated, ± ``doubt_s`` [s].
        """
        now_s = self._clock.now_s()
        self._catch_up(now_s)
        self._moment_s = now_s
        self._waiting += [_doubted(each, doubt_s) for each in self._board.make_safe("switchboard lost")]
        self._waiting += [SwitchboardLost(why), SwitchboardReady("simulated", realtime=False, locked=False)]
        self._board = self._new_board()

    async def aclose(self) -> None:
        """Release every relay and end."""
        self._moment_s = self._clock.now_s()
        self._waiting += self._board.leave("asked to leave")
        self.advance(self._moment_s)

    def _new_board(self) -> Board:
        return Board(self._wirings, throw=self._throw, now_s=self._moment_s, silence_s=None)

    def _take(self, command: Command) -> None:
        if self._board.left is not None and isinstance(command, Switch | Expose):
            raise Refused("the switchboard has ended", allowed="a new start")
        now_s = self._clock.now_s()
        self._catch_up(now_s)
        self._moment_s = now_s
        self._waiting += self._board.take(command, now_s)

    def _catch_up(self, now_s: float) -> None:
        while (due_s := self._board.next_due_s()) <= now_s and math.isfinite(due_s):
            self._moment_s = due_s
            self._waiting += self._board.advance(due_s)

    def _throw(self, relay: str, *, on: bool) -> float:  # noqa: ARG002 - a simulated relay is only a moment
        return self._moment_s


def _doubted(report: Report, doubt_s: float) -> Report:
    return replace(report, doubt_s=doubt_s) if isinstance(report, ExposureEnded) else report
