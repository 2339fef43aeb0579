"""One played session as a judge needs it: pins, book and blows on one clock, each read once."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from tests.faults.evidence import Span, Struck
from tests.faults.eyes.book import Line, OwnBook, read_book
from tests.faults.eyes.pins import ends_of_machines, spans
from tests.faults.session import Played
from tests.faults.stage.folder import LAMP, RELAYS


@dataclass(frozen=True)
class Verdict:
    """One check: whether it held, and what was found if not."""

    held: bool
    words: str = ""


Judge = Callable[["Case"], Iterator[Verdict]]


@dataclass(frozen=True)
class Invariant:
    """A named check, under the number of the issue's own list."""

    number: int
    name: str
    judge: Judge


class Case:
    """Moments here are on the real machine's boot clock [s], whatever clock wrote them."""

    def __init__(self, played: Played) -> None:
        self.played = played
        self.evidence = played.evidence

    @cached_property
    def book(self) -> OwnBook:
        return read_book(self.played.folder.journal)

    @cached_property
    def cuts_s(self) -> list[float]:
        return [struck.notes["cut_s"] for struck in self.evidence.of("power cut")]

    @cached_property
    def lamp(self) -> list[Span]:
        return self.spans_of(LAMP)

    @cached_property
    def relays(self) -> dict[str, list[Span]]:
        return {name: self.spans_of(pin) for name, pin in RELAYS.items()}

    def spans_of(self, pin: int) -> list[Span]:
        return spans(self.played.folder.pin_records(), pin, ends_of_machines(self.cuts_s))

    def at_s(self, line: Line) -> float:
        """When an event was written [boot s of the real machine]."""
        return line.boot_s - self._offsets.get(line.boot_id, 0.0)

    def stall(self, from_s: float, to_s: float) -> float:
        """What this machine withheld [s] in that time."""
        return self.evidence.stall(from_s, min(to_s, self.evidence.over_s))

    def was(self, *faults: str) -> list[Struck]:
        return self.evidence.of(*faults)

    def was_frozen(self, from_s: float, to_s: float, *faults: str) -> bool:
        """Whether one of these processes was held still at any moment of that time."""
        return any(
            name in faults and start_s <= to_s and end_s >= from_s
            for name, start_s, end_s in self.evidence.frozen
        )

    @cached_property
    def _offsets(self) -> dict[str, float]:
        """The offset of each machine start's clock, by its boot id."""
        return dict(self.played.folder.boot_ids)
