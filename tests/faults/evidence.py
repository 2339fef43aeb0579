"""What the observer has in hand when it judges: only what could be seen from outside."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tests.faults.stage.hosted import Ended
from tests.faults.stage.wire import Served


@dataclass(frozen=True)
class Span:
    """A relay's line was at its active level from ``on_s`` to ``off_s`` [boot s of the real machine]."""

    on_s: float
    off_s: float
    machine: int = 1

    def lights(self, at_s: float) -> bool:
        return self.on_s <= at_s < self.off_s


@dataclass
class Struck:
    """A fault that was played: when it began and was over [boot s], and what it did, in a few words."""

    fault: str
    at_s: float
    over_s: float = float("inf")
    notes: dict[str, Any] = field(default_factory=dict)


@dataclass
class Asked:
    """Something the person asked for, and what was answered: ``done``, a refusal's words, or nothing yet."""

    at_s: float
    ticket: int
    act: dict[str, Any]
    answered_s: float | None = None
    done: bool = False
    words: str = ""


@dataclass(frozen=True)
class Seen:
    """A view of the bench as it reached the watcher at ``at_s`` [boot s of the real machine]."""

    at_s: float
    machine: int
    bench: dict[str, Any]


@dataclass(frozen=True)
class Shown:
    """What stood on the person's terminal from ``at_s`` on, and whether its program ran then."""

    at_s: float
    text: str
    page_is_up: bool


@dataclass
class Evidence:
    """Everything of one session. ``stall`` tells what this machine withheld between two moments [s]."""

    began_s: float
    stall: Callable[[float, float], float]
    struck: list[Struck] = field(default_factory=list)
    asked: list[Asked] = field(default_factory=list)
    seen: list[Seen] = field(default_factory=list)
    shown: list[Shown] = field(default_factory=list)
    served: list[Served] = field(default_factory=list)
    ended: list[Ended] = field(default_factory=list)
    frozen: list[tuple[str, float, float]] = field(default_factory=list)
    over_s: float = 0.0

    def of(self, *faults: str) -> list[Struck]:
        """The times that one of these faults was played."""
        return [struck for struck in self.struck if struck.fault in faults]
