"""What the link knows of the relays by the reports, and what it has to guess when they stop coming."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.switchboard.commands import Expose
from firmware_py.switchboard.reports import (
    CommandRefused,
    ExposureBegan,
    ExposureEnded,
    RelaySwitched,
    Report,
)

# An estimate is never passed off as a measurement, however short the gap.
LEAST_DOUBT_S = 0.001


@dataclass(slots=True)
class _Open:
    """An exposure that was asked for and has not ended: it began at ``on_s``, or was asked for then."""

    relay: str
    on_s: float
    began: bool = False


class Ledger:
    """The relays that are on and the exposures that are open."""

    def __init__(self) -> None:
        self._on: set[str] = set()
        self._open: dict[str, _Open] = {}

    def is_on(self, relay: str) -> bool:
        """Return whether the relay is energised."""
        return relay in self._on or any(each.relay == relay and each.began for each in self._open.values())

    def ask(self, command: Expose, now_s: float) -> None:
        """Note that an exposure was asked for at ``now_s`` [boot s]."""
        self._open.setdefault(command.id, _Open(command.relay, now_s))

    def note(self, report: Report) -> None:
        """Note what a report says."""
        match report:
            case RelaySwitched(relay=relay, on=on):
                (self._on.add if on else self._on.discard)(relay)
            case ExposureBegan(id=exposure, relay=relay, at_s=at_s):
                self._open[exposure] = _Open(relay, at_s, began=True)
            case ExposureEnded(id=exposure):
                self._open.pop(exposure, None)
            case CommandRefused(id=str(exposure)) if (
                exposure in self._open and not self._open[exposure].began
            ):
                del self._open[exposure]

    def lose(self, lit_until_s: float, dark_from_s: float) -> list[Report]:
        """Return what became of everything that was on, and forget it.

        It was still on at ``lit_until_s`` and off for certain at ``dark_from_s`` [boot s]. An exposure
        that never reported its beginning may have been on at any time since it was asked for.
        """
        ended = [_estimate(name, each, lit_until_s, dark_from_s) for name, each in self._open.items()]
        off = [
            RelaySwitched(relay, on=False, at_s=dark_from_s, why="switchboard lost")
            for relay in sorted(self._on)
        ]
        self._on.clear()
        self._open.clear()
        return [*ended, *off]


def _estimate(name: str, each: _Open, lit_until_s: float, dark_from_s: float) -> ExposureEnded:
    earliest_s = max(each.on_s, lit_until_s) if each.began else each.on_s
    off_s = max(each.on_s, (earliest_s + dark_from_s) / 2)
    doubt_s = max((dark_from_s - earliest_s) / 2, LEAST_DOUBT_S)
    return ExposureEnded(name, each.relay, each.on_s, off_s, "switchboard lost", doubt_s)
