"""A sheet of paper under the lamp: the exposures it got, part by part, and what is still wanting."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from firmware_py.craft.strips import Method, given_s, increments_s
from firmware_py.facts.events.print import ExposureEnd, Part

SheetKind = Literal["strip", "print", "bulb"]
SheetEnd = Literal["finished", "given up"]
PARTS_OF: dict[SheetKind, frozenset[Part]] = {
    "strip": frozenset({"strip"}),
    "print": frozenset({"base", "burn"}),
    "bulb": frozenset({"bulb"}),
}

# A missing hair that no paper shows: 2 ms by the switchboard, a fiftieth or 0.3 s by a hand. Own.
SLACK_S = 0.002
HAND_SLACK_S, HAND_SLACK_PART = 0.3, 0.02


@dataclass(slots=True)
class Exposure:
    """One start of the lamp, or one uncovering of the frame under a lamp that is kept lit (``by_hand``).

    ``wanted_s`` [s] of full light were wanted and ``planned_s`` [s] of on-time planned; ``on_s`` and
    ``off_s`` are on the boot clock of the start it was made on; ``effective_s`` [s] came of it.
    """

    exposure: str
    part: Part
    number: int
    rest: bool = False
    wanted_s: float | None = None
    planned_s: float | None = None
    ceiling_s: float | None = None
    by_hand: bool = False
    on_s: float | None = None
    off_s: float | None = None
    why: ExposureEnd | Literal["covered", "lamp out"] | None = None
    doubt_s: float = 0.0
    stopped_by: str = ""
    effective_s: float = 0.0

    @property
    def lasted_s(self) -> float:
        """Get how long it lasted [s]; 0 while it goes on or has not begun."""
        return 0.0 if self.on_s is None or self.off_s is None else self.off_s - self.on_s


@dataclass(frozen=True, slots=True)
class Slot:
    """A part of the sheet (an exposure of the strip, the base, a burn), over all its starts.

    ``wanted_s`` and ``given_s`` are seconds of full light [s]; None is wanted where a foot alone decides.
    """

    part: Part
    number: int
    wanted_s: float | None
    given_s: float
    complete: bool

    @property
    def missing_s(self) -> float:
        """Get what is wanting [s of full light]; 0 where nothing is."""
        return 0.0 if self.complete or self.wanted_s is None else self.wanted_s - self.given_s


@dataclass(slots=True)
class Sheet:
    """A sheet by its number among all of the print (strips count too); a strip knows its patches."""

    number: int
    kind: SheetKind
    base_s: float | None = None
    patches_s: tuple[float, ...] = ()
    step_stops: float = 0.0
    method: Method = "covering"
    exposures: list[Exposure] = field(default_factory=list)
    forgone: set[tuple[Part, int]] = field(default_factory=set)
    ended: SheetEnd | None = None
    run_id: str | None = None

    @property
    def is_touched(self) -> bool:
        """Get whether any light has fallen on it."""
        return any(exposure.off_s is not None for exposure in self.exposures)

    @property
    def increments_s(self) -> tuple[float, ...]:
        """Get the exposures of a strip [s of full light], in order."""
        return increments_s(self.patches_s, self.method) if self.patches_s else ()

    def slots(self) -> list[Slot]:
        """Return the parts exposed so far, in the order in which each was first begun."""
        by_part: dict[tuple[Part, int], list[Exposure]] = {}
        for exposure in self.exposures:
            if exposure.off_s is not None:
                by_part.setdefault((exposure.part, exposure.number), []).append(exposure)
        return [self._slot(place, starts) for place, starts in by_part.items()]

    def owed(self) -> Slot | None:
        """Return the part that was broken off and is not complete."""
        return next((slot for slot in self.slots() if not slot.complete), None)

    def has(self, part: Part, number: int) -> bool:
        """Return whether a part is complete."""
        return any((s.part, s.number) == (part, number) and s.complete for s in self.slots())

    def patches_given_s(self) -> tuple[float, ...]:
        """Return what each patch of a whole strip really got [s of full light]; none before it is whole."""
        slots = self.slots()
        if len(slots) != len(self.patches_s) or not all(s.complete and s.given_s > 0 for s in slots):
            return ()
        return given_s([slot.given_s for slot in slots], self.method)

    def _slot(self, place: tuple[Part, int], starts: list[Exposure]) -> Slot:
        wanted_s = starts[0].wanted_s
        given = math.fsum(start.effective_s for start in starts)
        missing_s = 0.0 if wanted_s is None else wanted_s - given
        is_full = starts[-1].why in {"time", "dose"} or missing_s <= _slack_s(starts[-1])
        complete = place in self.forgone or is_full
        return Slot(place[0], place[1], wanted_s, given, complete)


def _slack_s(last: Exposure) -> float:
    if not last.by_hand:
        return SLACK_S
    return max(HAND_SLACK_S, HAND_SLACK_PART * (last.wanted_s or 0.0))
