"""The seven invariants, each told by named checks that see the session from outside only."""

from __future__ import annotations

from collections.abc import Iterator

from tests.faults.invariants import afterwards, book, heat, lamp, light, privacy, red, timer, typing
from tests.faults.invariants.case import Case, Invariant, Verdict

_ROOMS = (lamp, light, heat, book, typing, timer, red, privacy, afterwards)
INVARIANTS: tuple[Invariant, ...] = tuple(each for room in _ROOMS for each in room.INVARIANTS)


def judged(case: Case) -> Iterator[tuple[Invariant, Verdict]]:
    """Give every check of every invariant."""
    for invariant in INVARIANTS:
        for verdict in invariant.judge(case):
            yield invariant, verdict
