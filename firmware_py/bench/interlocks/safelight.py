"""Interlock 2: the safelight goes out, and stays out, while a plate is open that it would fog."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from firmware_py.bench.trays.lane import Whereabouts
from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.craft.safelight import WARN_AT, Budget

# A plate that has had this share of its safe time (the user's own test) is warned of; at the whole of it the
# light goes out. The warning's share is the craft's.
OUT_AT = 1.0

# What can be done about the light, by where the plate is. A wet plate never goes back into its box.
WAYS_OUT: Mapping[Whereabouts, str] = MappingProxyType(
    {
        "dry": "fix it in the dark; or put it back into its box and give up its run",
        "wet": "fix it in the dark",
        "fixing": "wait in the dark until it is fixed",
        "interrupted": "continue its run in the dark; give the run up only if it is in its box or fixed",
    }
)


@dataclass(frozen=True, slots=True)
class LitPlate:
    """An open plate or paper as the light sees it: ``dark`` says that no light at all is allowed to it now.

    ``budget`` is what it has used of its safe time, None where no test says how long that is.
    """

    plate: str
    lane: int
    sensitivity: Sensitivity | None
    dark: bool
    budget: Budget | None
    whereabouts: Whereabouts


@dataclass(frozen=True, slots=True)
class Objection:
    """Why the safelight must be off, and what can be done about it."""

    why: str
    way_out: str


def objection(plates: Iterable[LitPlate]) -> Objection | None:
    """Return why the safelight must be off, naming the first plate it would fog; None where it may be on."""
    for plate in plates:
        why = _why(plate)
        if why:
            where = f"plate {plate.plate!r} is open in run {plate.lane}"
            return Objection(f"{where} and {why}", WAYS_OUT[plate.whereabouts])
    return None


def _why(plate: LitPlate) -> str:
    if plate.dark:
        return "panchromatic" if plate.sensitivity == "panchromatic" else "needs total darkness"
    if plate.budget is not None and plate.budget.used >= OUT_AT:
        return "has used up its safe time"
    return ""


def warning(plate: LitPlate) -> str:
    """Return what to say of a plate whose safe time is nearly used up; nothing before that."""
    if plate.budget is None or not WARN_AT <= plate.budget.used < OUT_AT:
        return ""
    return f"{plate.plate} has used {100 * WARN_AT:.0f} % of its safe time: safelight off soon"
