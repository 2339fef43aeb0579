"""Interlock 2: the safelight goes out, and stays out, while a plate is open that it would fog."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from firmware_py.bench.trays.lane import BEARS_NO_LIGHT
from firmware_py.craft.safelight import WARN_AT, Budget
from firmware_py.facts.events.plate import Sensitivity

# A plate that has had this share of its safe time (the user's own test) is warned of; at the whole of it the
# light goes out. The warning's share is the craft's.
OUT_AT = 1.0

WAY_OUT = "fix it in the dark, or put it back into its box and give its run up; then the light may come on"


@dataclass(frozen=True, slots=True)
class LitPlate:
    """An open plate as the light sees it: ``dark`` says that its run or its step bears no light at all.

    ``budget`` is what it has used of its safe time, None where no test says how long that is.
    """

    plate: str
    lane: int
    sensitivity: Sensitivity | None
    dark: bool
    budget: Budget | None


def objection(plates: Iterable[LitPlate]) -> str:
    """Return why the safelight must be out, naming the first plate it would fog; or nothing."""
    for plate in plates:
        where = f"plate {plate.plate!r} is open in tray {plate.lane}"
        if plate.sensitivity in BEARS_NO_LIGHT:
            return f"{where} and {plate.sensitivity}"
        if plate.dark:
            return f"{where} and bears no light"
        if plate.budget is not None and plate.budget.used >= OUT_AT:
            return f"{where} and has had all its safe time"
    return ""


def warning(plate: LitPlate) -> str:
    """Return what to say of a plate whose safe time is nearly used up; nothing before that."""
    if plate.budget is None or not WARN_AT <= plate.budget.used < OUT_AT:
        return ""
    return f"{plate.plate} has had {100 * WARN_AT:.0f} % of its time under the safelight: put it out soon"
