"""A small book for the pictures of the Logbook page."""

from __future__ import annotations

from pathlib import Path

from firmware_py.journal.store import Journal
from firmware_py.service.bookshelf import Bookshelf
from tests.journal.making import run_entries, subject
from tests.journal.making_verdicts import PRINTED, judged_run_entries


def sample_book(folder: Path) -> Bookshelf:
    path = folder / "sample-book.db"
    with Journal.open(path) as journal:
        journal.append(judged_run_entries(subject(60), PRINTED))
        for n in range(10, 24):
            journal.append(run_entries(subject(n), plate=f"Net loft {n}", readings=3))
    return Bookshelf(path)
