"""The sessions in which a storm found something, kept to be played again: ``python -m tests.faults --kept``.

By the names of their faults: a new kind of fault, which changes what a seed draws, does not lose them.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from tests.faults.plan import Plan, planned, playable


@dataclass(frozen=True)
class Kept:
    """What was found, and the session that shows it."""

    found: str
    seed: int
    session: int
    faults: tuple[str, ...]


KEPT = (
    Kept("clients let go at the end were printed as errors", 1, 0, ("probe frozen",)),
    Kept("a screen on a frozen controller said nothing", 1, 1, ("controller frozen for long",)),
    Kept("the page said nothing of a probe for five seconds", 1, 3, ("probe gone",)),
    Kept("a folder that became read-only made the end a traceback", 1, 36, ("folder read-only",)),
    Kept("the screen's files were open to other users", 2, 10, ("keys at random",)),
    Kept("a controller hung at its end on a slow probe", 2, 9, ("probe takes 5 s", "another user")),
    Kept("a controller hung at its end on a silent probe", 2, 23, ("jacket probe never answers",)),
    Kept("without memory a probe was never asked again", 21, 103, ("no memory", "foot switch bounces")),
    Kept("two keys at once left the help page twice", 21, 139, ("keys at random", "client that never reads")),
    Kept("a locked book was told of too late", 4, 0, ("book locked by a writer",)),
)


def chosen(seed: int, session: int, faults: tuple[str, ...]) -> Plan:
    """Return the session of these very faults."""
    return planned(seed, session, faults, Random(f"chosen {seed}/{session}"))


def kept_plans() -> list[Plan]:
    """Return the kept sessions, as far as this machine can play them."""
    may = set(playable())
    return [chosen(kept.seed, kept.session, kept.faults) for kept in KEPT if may.issuperset(kept.faults)]
