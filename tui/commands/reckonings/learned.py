"""What the book has learned of a box of plates, for the reckoning of its exposures."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from pathlib import Path

from firmware_py.craft.refusal import Refused, shown
from firmware_py.journal.box_advice import Correction
from tui.commands.reckonings.topic import Json


@dataclass(frozen=True, slots=True)
class Learned:
    """The correction of a box [stops], with its doubt and how many plates it comes from."""

    box: str
    correction: Correction
    rehearsal: bool

    @property
    def stops(self) -> float:
        """Get the correction [stops]: more than the reckoning, or less."""
        return self.correction.stops

    @property
    def words(self) -> str:
        """Get what was learned, its size and from how many plates."""
        from tui.pages.logbook.advice_words import daylight_words

        rehearsal = " of REHEARSALS" if self.rehearsal else ""
        return f"box {self.box} by the book{rehearsal}: {daylight_words(self.correction)}"

    @property
    def values(self) -> dict[str, Json]:
        """Get everything with its unit in its key."""
        return {
            "box": self.box,
            "box_rehearsal": self.rehearsal,
            "correction_doubt_stops": self.correction.doubt_stops,
            "correction_plates": self.correction.plates,
        }


def declare_box(parser: argparse.ArgumentParser) -> None:
    """Declare the box whose plates the book has learned from."""
    parser.add_argument("--box", metavar="NAME", help="correct by what the book has learned of this box")
    parser.add_argument("--journal", metavar="FILE", type=Path, help="the book; else that of the bench")


def read_learned(args: argparse.Namespace) -> Learned | None:
    """Return what the book has learned of the box that is named, None where none is. Raises `Refused`."""
    if args.box is None:
        if args.journal is not None:
            raise Refused("a book without a box", where="--journal", allowed="with --box NAME")
        return None
    if args.correction is not None:
        raise Refused("a correction beside that of the book", where="--correction", allowed="one of the two")
    from firmware_py.journal.box_advice import advice_of_box
    from firmware_py.journal.reading import refusing
    from tui.commands.logbook.book import book_reader

    with book_reader(args) as reader, refusing(reader.path):
        told = advice_of_box(reader.connection, args.box)
    if told.correction is None:
        what = f"{shown(told.box)}: no judged plate of it has a note of its exposure with place, hour and sky"
        raise Refused(what, where="--box", allowed="exposures noted on the Plates page, or --correction")
    return Learned(told.box, told.correction, told.rehearsal)
