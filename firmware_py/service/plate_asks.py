"""Acts on the book of plates from the command line, in the journal itself: for while no controller runs."""

from __future__ import annotations

from pathlib import Path

from firmware_py.bench.effects import Write
from firmware_py.bench.notices import Notices
from firmware_py.bench.plates.plate_book import PlateBook
from firmware_py.bench.scribe import Scribe
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock
from firmware_py.facts.acts.plate import AnyPlateAct
from firmware_py.journal.store import Journal
from firmware_py.service.plate_resume import take_up_plates


def do_in_journal(path: Path, act: AnyPlateAct, *, rehearsal: bool) -> None:
    """Do an act on the book in the journal itself, whose lock keeps every other writer out.

    Raises Refused where the act, or the journal, refuses.
    """
    with Journal.open(path) as journal:
        scribe = Scribe(BootClock())
        book = PlateBook(scribe, Notices(), rehearsal=rehearsal)
        take_up_plates(book, journal, _refuse)
        book.do(act)
        journal.append([effect.entry for effect in scribe.take_effects() if isinstance(effect, Write)])


def _refuse(words: str, subject: str) -> None:
    raise Refused(words, where=subject, allowed="a sound book; see `embertray logbook verify`")
