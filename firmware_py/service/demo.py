"""Makes the demo book: a season that never was, to look at and to try things on."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from firmware_py.journal.copies import require_new
from firmware_py.journal.store import Journal
from firmware_py.rehearsal.demo.demo_book import demo_book
from firmware_py.rehearsal.demo.season import BOXES


class DemoMade(NamedTuple):
    """Where the book lies, and how many boxes, runs, prints and events are in it."""

    journal: str
    boxes: int
    runs: int
    prints: int
    events: int


def make_demo_book(path: Path) -> DemoMade:
    """Write the demo book to the new journal ``path``, everything in it a rehearsal.

    Raises Refused where there is a journal already: an invented season has no place in anybody's book.
    """
    require_new(path)
    events = 0
    with Journal.open(path) as journal:
        for entries in demo_book():
            journal.append(entries)
            events += len(entries)
        runs, prints = len(journal.subjects("RunOpened")), len(journal.subjects("PrintOpened"))
    return DemoMade(str(path), len(BOXES), runs, prints, events)
