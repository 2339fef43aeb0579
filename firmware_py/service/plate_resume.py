"""Gives the bench its book of plates as the journal knows it."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from firmware_py.bench.plates.plate_book import PlateBook
from firmware_py.bench.plates.plate_shelf import AT_REST_AT_HAND, Left
from firmware_py.craft.refusal import Refused
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.box_rows import boxes, holders
from firmware_py.journal.life_record import PlateRecord
from firmware_py.journal.life_rows import emptied_sides, plates_at_hand
from firmware_py.journal.store import Journal

# Told words, and the id of what they are about.
Trouble = Callable[[str, str], None]


def take_up_plates(book: PlateBook, journal: Journal, trouble: Trouble) -> None:
    """Give a book of plates its boxes, its holders, the plates at hand, and when sides were emptied.

    What can not be replayed is left where it is and said so; the others go on.
    """
    rows = journal.look(lambda connection: plates_at_hand(connection, AT_REST_AT_HAND))
    wanted = {row.box_id for row in journal.look(boxes)} | {row.box_id for row in rows}

    def take_up(subjects: Iterable[str], what: str, resume: Callable[[str], None]) -> None:
        for subject in subjects:
            try:
                resume(subject)
            except Refused as refusal:
                trouble(f"A {what} cannot be read from the journal: {refusal.line}", subject)

    take_up(sorted(wanted), "box", lambda s: book.resume_box(BoxRecord.replay(journal.read(s))))
    used = [row.holder_id for row in journal.look(holders)]
    take_up(used, "holder", lambda s: book.resume_holder(HolderRecord.replay(journal.read(s))))
    at_hand = [row.plate_id for row in rows]
    take_up(at_hand, "plate", lambda s: book.resume_plate(PlateRecord.replay(journal.read(s))))
    for side in journal.look(emptied_sides):
        book.resume_emptied(side.holder_id, side.side, Left(side.left_utc, side.name))
