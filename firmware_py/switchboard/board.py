"""The switchboard's rules at work: told the time and the commands, it throws the relays and reports."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, Protocol

from firmware_py.craft.refusal import Refused
from firmware_py.switchboard.commands import (
    Beat,
    Command,
    Configure,
    Expose,
    Leave,
    MakeSafe,
    RelayWiring,
    Stop,
    Switch,
)
from firmware_py.switchboard.reports import (
    Alive,
    CommandRefused,
    EndReason,
    ExposureBegan,
    ExposureEnded,
    Leaving,
    OffReason,
    RelaySwitched,
    Report,
)
from firmware_py.switchboard.rules import check_expose, check_switch, wirings_by_name


class Throw(Protocol):
    """The hand on the relays."""

    def __call__(self, relay: str, *, on: bool) -> float:
        """Move the relay and return the moment [boot s] at which it moved."""
        ...


@dataclass(slots=True)
class _Line:
    """A relay as it stands: since when it is on, when it must go off, and for which exposure."""

    wiring: RelayWiring
    on_s: float | None = None
    off_due_s: float = math.inf
    exposure: Expose | None = None


class Board:
    """Every relay, each with its deadline; without a clock and without pins of its own.

    ``throw(relay, on)`` moves the relay and returns the moment [boot s] at which it did. Every call first
    does what has fallen due, so no relay outlives its deadline because a command came in between.
    ``silence_s`` [s] without any command ends it; None (a rehearsal) means never.
    """

    def __init__(
        self, relays: tuple[RelayWiring, ...], *, throw: Throw, now_s: float, silence_s: float | None
    ) -> None:
        self._relays = wirings_by_name(relays)
        self._lines = {name: _Line(wiring) for name, wiring in self._relays.items()}
        self._throw = throw
        self._silence_s = math.inf if silence_s is None else silence_s
        self._heard_s = now_s
        self.left: str | None = None
        self._ending: str | None = None
        self._ends_s = math.inf

    def is_on(self, relay: str) -> bool:
        """Return whether the relay is energised."""
        return self._lines[relay].on_s is not None

    def next_due_s(self) -> float:
        """Return the moment [boot s] of the next thing to do by itself; infinite if there is none."""
        if self.left is not None:
            return math.inf
        return min(
            [
                self._ends_s,
                self._heard_s + self._silence_s,
                *(line.off_due_s for line in self._lines.values()),
            ]
        )

    def advance(self, now_s: float) -> list[Report]:
        """Do all that is due by ``now_s`` [boot s]."""
        if self.left is not None:
            return []
        due = sorted((line for line in self._lines.values() if line.off_due_s <= now_s), key=_off_due_s)
        reports = [report for line in due for report in self._fall_due(line)]
        if self._ending is not None and self._ends_s <= now_s:
            return reports + self.leave(self._ending)
        if self._heard_s + self._silence_s <= now_s:
            reports += self.leave(f"nothing heard from the controller for {self._silence_s:g} s")
        return reports

    def take(self, command: Command, now_s: float) -> list[Report]:
        """Obey ``command`` at ``now_s`` [boot s], or say why not."""
        reports = self.advance(now_s)
        if self.left is not None:
            return reports
        self._heard_s = max(self._heard_s, now_s)
        try:
            return reports + self._obey(command)
        except Refused as refusal:
            exposure = command.id if isinstance(command, Expose) else None
            return [*reports, CommandRefused(refusal.line, exposure)]

    def make_safe(self, why: Literal["made safe", "switchboard lost"] = "made safe") -> list[Report]:
        """Release every relay."""
        lit = [line for line in self._lines.values() if line.on_s is not None]
        return [self._release(line, why, why) for line in lit]

    def end_soon(self, why: str, at_s: float) -> list[Report]:
        """Release every relay now, energise none any more, and leave at ``at_s`` [boot s] at the latest."""
        if self._ending is None:
            self._ending, self._ends_s = why, at_s
        return self.make_safe()

    def leave(self, why: str) -> list[Report]:
        """Release every relay and take no more commands."""
        reports = self.make_safe()
        self.left = why
        return [*reports, Leaving(why)]

    def _obey(self, command: Command) -> list[Report]:
        match command:
            case Beat(number):
                return [Alive(number)]
            case Switch():
                return self._switch(command)
            case Expose():
                return self._expose(command)
            case Stop(exposure):
                return self._stop(exposure)
            case MakeSafe():
                return self.make_safe()
            case Leave() | Configure():
                return self.leave("asked to leave" if isinstance(command, Leave) else "configured twice")

    def _require_staying(self) -> None:
        if self._ending is not None:
            raise Refused(f"the switchboard ends: {self._ending}", allowed="relays that are off")

    def _switch(self, command: Switch) -> list[Report]:
        wiring = check_switch(command, self._relays)
        line = self._lines[command.relay]
        if not command.on:
            return [] if line.on_s is None else [self._release(line, "stopped", "asked")]
        self._require_staying()
        if line.exposure is not None:
            raise Refused(
                f"relay {wiring.name!r} is in exposure {line.exposure.id!r}", allowed="to stop it first"
            )
        reports: list[Report] = []
        if line.on_s is None:
            line.on_s = self._throw(wiring.name, on=True)
            reports.append(RelaySwitched(wiring.name, on=True, at_s=line.on_s))
        line.off_due_s = self._heard_s + (wiring.stay_limit_s or math.inf)
        return reports

    def _expose(self, command: Expose) -> list[Report]:
        wiring = check_expose(command, self._relays)
        self._require_staying()
        line = self._lines[command.relay]
        if line.exposure is not None:
            raise Refused(
                f"relay {wiring.name!r} is in exposure {line.exposure.id!r}", allowed="one at a time"
            )
        if line.on_s is not None:
            raise Refused(f"relay {wiring.name!r} is switched on", allowed="to switch it off first")
        if any(other.exposure and other.exposure.id == command.id for other in self._lines.values()):
            raise Refused(f"exposure {command.id!r} is going on already", allowed="a name of its own")
        limit_s = command.for_s if command.for_s is not None else command.ceiling_s
        assert limit_s is not None
        line.exposure = command
        line.on_s = self._throw(wiring.name, on=True)
        line.off_due_s = line.on_s + limit_s
        return [ExposureBegan(command.id, wiring.name, line.on_s)]

    def _stop(self, exposure: str) -> list[Report]:
        for line in self._lines.values():
            if line.exposure is not None and line.exposure.id == exposure:
                return [self._release(line, "stopped", "asked")]
        return []  # it ended by itself on the way here: what was wanted is so

    def _fall_due(self, line: _Line) -> list[Report]:
        timed = line.exposure is not None and line.exposure.for_s is not None
        return [self._release(line, "time" if timed else "ceiling", "limit")]

    def _release(self, line: _Line, end: EndReason, why: OffReason) -> Report:
        assert line.on_s is not None
        name, on_s, exposure = line.wiring.name, line.on_s, line.exposure
        off_s = self._throw(name, on=False)
        line.on_s, line.off_due_s, line.exposure = None, math.inf, None
        if exposure is None:
            return RelaySwitched(name, on=False, at_s=off_s, why=why)
        return ExposureEnded(exposure.id, name, on_s, off_s, end)


def _off_due_s(line: _Line) -> float:
    return line.off_due_s
