"""What a session shall be, drawn from a seed: its faults, their moments, the errands, the stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random
from typing import Literal

from tests.faults.kinds import FAULTS
from tests.faults.kinds.fault import Fault, Needs
from tests.faults.stage.users import can_mount, is_root

# How long after the bench answers the first fault strikes [s].
FIRST_s = (0.2, 1.5)
APART_s = (0.0, 1.2)
# After the last fault is over, the bench is watched for so long [s].
AFTER_s = 1.2


@dataclass(frozen=True)
class Blow:
    """One fault of a session: ``after_s`` [s] after the bench answers, for ``lasts_s`` [s].

    It strikes as soon after that as there is what it ``waits_for``: the lamp's light, a plate in a bath.
    """

    fault: str
    after_s: float
    lasts_s: float
    waits_for: Literal["light", "plate", ""]

    @property
    def kind(self) -> Fault:
        return FAULTS[self.fault]


@dataclass(frozen=True)
class Plan:
    """One session. ``seed`` and ``session`` bring it back; ``dice`` are its own."""

    seed: int
    session: int
    blows: tuple[Blow, ...]
    errands: tuple[str, ...]
    with_screen: bool
    small_disk: bool
    uses_foot: bool
    is_chosen: bool = False

    @property
    def dice(self) -> Random:
        return Random(f"played {self.seed}/{self.session}")

    def replay(self) -> str:
        """Return the command that plays this session again."""
        command = f"python -m tests.faults --seed {self.seed} --session {self.session}"
        faults = "".join(f" --fault '{blow.fault}'" for blow in self.blows)
        return command + (faults if self.is_chosen else "")


def playable() -> list[str]:
    """The faults that can be played on this machine."""
    lacking = Needs.NOTHING if is_root() else Needs.ROOT
    lacking |= Needs.NOTHING if can_mount() else Needs.SMALL_DISK
    return [name for name, fault in FAULTS.items() if not fault.needs & lacking]


def plan(seed: int, session: int) -> Plan:
    """Return session number ``session`` (from 0). Even ones play a fault alone, odd ones a random pair."""
    dice = Random(f"drawn {seed}/{session}")
    return replace(planned(seed, session, _names(seed, session, dice), dice), is_chosen=False)


def planned(
    seed: int, session: int, names: Sequence[str], dice: Random, *, errands: tuple[str, ...] = ()
) -> Plan:
    """Return a session with these faults, and with ``errands`` where they are not to be drawn."""
    blows = tuple(_blow(FAULTS[name], dice) for name in names)
    needs = Needs.NOTHING
    for blow in blows:
        needs |= blow.kind.needs
    return Plan(
        seed,
        session,
        blows,
        errands or _errands(needs, dice),
        with_screen=bool(needs & Needs.SCREEN) or any(b.kind.says for b in blows) or dice.random() < 0.15,
        small_disk=bool(needs & Needs.SMALL_DISK),
        uses_foot=any("foot" in name for name in names) or dice.random() < 0.2,
        is_chosen=True,
    )


def _names(seed: int, session: int, dice: Random) -> tuple[str, ...]:
    names = playable()
    if session % 2:
        return tuple(dice.sample(names, k=2))
    # Alone, each fault has its turn before any has a second one.
    turn, place = divmod(session // 2, len(names))
    order = Random(f"order {seed}/{turn}").sample(names, k=len(names))
    return (order[place],)


def _blow(fault: Fault, dice: Random) -> Blow:
    after_s, lasts_s = dice.uniform(*FIRST_s), dice.uniform(*fault.lasts_s)
    may_wait = dice.random() < 0.7
    waits_for: Literal["light", "plate", ""] = ""
    if may_wait and fault.needs & Needs.LAMP:
        waits_for = "light"
    if may_wait and fault.needs & Needs.PLATE and (not waits_for or dice.random() < 0.7):
        waits_for = "plate"
    return Blow(fault.name, after_s, lasts_s, waits_for)


def _errands(needs: Needs, dice: Random) -> tuple[str, ...]:
    wanted = {"print"} if needs & Needs.LAMP else {dice.choice(["develop", "print"])}
    if needs & Needs.PLATE:
        wanted.add("develop")
    if needs & Needs.HEAT or dice.random() < 0.3:
        wanted.add("heat")
    if dice.random() < 0.2 and not needs & Needs.LAMP:
        wanted |= {"develop", "print"}
    # Wherever plates are fixed two bottles of the fixer stand on the bench.
    wanted |= {"bottles"} if "develop" in wanted else set()
    return (*sorted(wanted), "write")
