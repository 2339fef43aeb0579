"""A run that was opened with the wrong plate: what a correction may say, and what follows it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.run import PlateCorrected
from firmware_py.facts.events.verdict import PlateJudged


def check_correction(event: PlateCorrected, plates: Sequence[str], where: str) -> None:
    """Refuse a correction to another number of plates than the tray has, or to one plate twice."""
    named = (event.plate, *event.others)
    if len(named) != len(plates):
        allowed = f"{len(plates)}: as many as the run was opened with"
        raise Refused(f"{len(named)} plates named", where=where, allowed=allowed)
    if len(set(named)) != len(named):
        raise Refused("a plate is named twice", where=where, allowed="each plate once")


def follow_correction(
    verdicts: Mapping[str, PlateJudged], plates: Sequence[str], event: PlateCorrected
) -> dict[str, PlateJudged]:
    """Return the verdicts, each on the plate that is now named in the place of the one it was given on."""
    right = dict(zip(plates, (event.plate, *event.others), strict=True))
    return {right[of]: msgspec.structs.replace(one, plate=right[of]) for of, one in verdicts.items()}
