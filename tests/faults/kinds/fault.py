"""What a fault is: a name, how it is played on a stage and undone, and what is allowed to come of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Flag, auto
from random import Random

from tests.faults.evidence import Struck
from tests.faults.stage.stage import Stage


class Needs(Flag):
    """What has to be there for a fault to mean anything; the plan of a session sees to it."""

    NOTHING = 0
    LAMP = auto()  # struck while the printing lamp is lit, most times
    HEAT = auto()  # the heater is set
    PLATE = auto()  # a plate develops
    SCREEN = auto()  # the person's terminal is open
    SMALL_DISK = auto()  # the book lies on a disk of a few megabytes: a mount, so root
    ROOT = auto()  # another user


def _nothing(*_: object) -> None:
    return


@dataclass(frozen=True)
class Fault:
    """One fault. ``outcome`` says in words what it may lead to; the invariants hold through all of them.

    It lasts for a time within ``lasts_s`` [s], during which ``hold`` is called again and again, and at least
    ``judged_after_s`` [s] and what the machine withheld: else there would be nothing to judge. ``says`` is a
    pattern of the words that the page of a developing plate must show within 2 s of the moment at which the
    bench can know: ``known_after_s`` [s] after it struck.
    """

    name: str
    outcome: str
    strike: Callable[[Stage, Random, Struck], None]
    heal: Callable[[Stage, Struck], None] = _nothing
    hold: Callable[[Stage, Struck], None] = _nothing
    lasts_s: tuple[float, float] = (0.3, 1.0)
    judged_after_s: float = 0.0
    needs: Needs = Needs.NOTHING
    says: str = ""
    known_after_s: float = 0.0
