"""The label for a bottle: what is in it, since when and until when, and what goes for every bottle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.journal.sheets.page import Facts, Page, Words, facts_of

EVERY_BOTTLE = (
    "Label every bottle; keep from children and food.",
    "Follow the safety data sheet and local rules.",
)


@dataclass(frozen=True, slots=True)
class Bottle:
    """What is known of a bath: dates as ISO 8601, ``volume_ml`` [ml], ``left_cm2`` [cm²] it can still do."""

    name: str
    made_from: str
    made_on: str
    volume_ml: float
    keep_until: str | None = None
    left_cm2: float | None = None
    cautions: Sequence[str] = ()
    rehearsal: bool = False


def bath_label(bottle: Bottle) -> Page:
    """Return the label of a bath, for the paper "label"."""
    left = None if bottle.left_cm2 is None else f"{bottle.left_cm2:.0f} cm²"
    facts = facts_of(
        [
            ("Made on", bottle.made_on),
            ("Volume", f"{bottle.volume_ml:.0f} ml"),
            ("Keep until", bottle.keep_until or "nobody says"),
            ("Area left", left or "nobody says"),
        ]
    )
    return Page(
        title=bottle.name,
        under=bottle.made_from,
        blocks=(Facts("", facts), Words("", (*bottle.cautions, *EVERY_BOTTLE), framed=True)),
        foot="Embertray",
        banner="REHEARSAL" if bottle.rehearsal else "",
    )
