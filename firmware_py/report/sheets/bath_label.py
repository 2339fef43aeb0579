"""The label for a bottle: what is in it, since when and until when, and what goes for every bottle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from firmware_py.journal.bath_record import BathRecord
from firmware_py.report.sheets.page import Column, Facts, Page, Table, Words
from firmware_py.report.told import facts_of

EVERY_BOTTLE = (
    "Label every bottle; keep from children and food.",
    "Follow the safety data sheet and local rules.",
)
# What is done away from the bench is written on the bottle by hand.
_BY_HAND = (Column("Day", 1), Column("Plates", 1), Column("Remark", 3))
_ROWS, _ROW_MM = 6, 6.5


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
        blocks=(
            Facts("", facts),
            Words("", tuple(dict.fromkeys((*bottle.cautions, *EVERY_BOTTLE))), framed=True),
            Table("Used away from the bench", _BY_HAND, (("",) * len(_BY_HAND),) * _ROWS, row_mm=_ROW_MM),
        ),
        foot="Embertray · times in UTC",
        banner="REHEARSAL" if bottle.rehearsal else "",
    )


def bottle_of(bath: BathRecord, cautions: Sequence[str]) -> Bottle:
    """Return what the book knows of a bath; ``cautions`` are those of its formula."""
    made, made_on = bath.made, datetime.fromisoformat(bath.made_utc)
    until = None if made.keeps_s is None else made_on + timedelta(seconds=made.keeps_s)
    done = bath.done_cm2
    able = None if made.cm2_per_l is None else made.cm2_per_l * made.volume_ml / 1000
    return Bottle(
        name=bath.name,
        made_from=f"{made.title} ({made.formula})" if made.title else made.formula,
        made_on=_minute(made_on),
        volume_ml=made.volume_ml,
        keep_until=None if until is None else _minute(until),
        left_cm2=None if able is None else max(0.0, able - done),
        cautions=cautions,
        rehearsal=made.rehearsal,
    )


def _minute(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M}"
