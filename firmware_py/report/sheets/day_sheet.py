"""The day sheet: the table of exposures to take along, and room to write down what each side got."""

from __future__ import annotations

from collections.abc import Sequence

from firmware_py import __version__
from firmware_py.report.sheets.page import Column, Page, Table, Words

SIDES, ROW_MM = 12, 8.5  # six double holders
_WRITTEN = (
    Column("Side", 0.7),
    Column("When", 1),
    Column("Subject", 3),
    Column("Stop", 0.9),
    Column("Time", 0.9),
    Column("Remark: filter, extension, sky", 3),
)


def day_page(
    said: Sequence[str], columns: Sequence[str], rows: Sequence[tuple[str, ...]], sure: Sequence[str]
) -> Page:
    """Return the sheet of a day from its table: what is ``said`` at its head, how ``sure`` it is."""
    title, under, *more = said
    heads = tuple(Column(one, is_figure=True) for one in columns)
    table = Table("Exposure by hour and stop", heads, tuple(rows))
    blanks = (("",) * len(_WRITTEN),) * SIDES
    return Page(
        title=title,
        under=under,
        blocks=(
            Words("", tuple(more)),
            table,
            Words("How sure", tuple(sure)),
            Table("What each side got", _WRITTEN, blanks, row_mm=ROW_MM),
        ),
        foot=f"Embertray {__version__} · stops and times as the table reckons them; bracket a precious plate",
    )
