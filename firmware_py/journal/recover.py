"""Opens the bench's journal whatever became of it: a damaged one is set aside, what can be saved goes on."""

from __future__ import annotations

from itertools import count
from pathlib import Path

from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.salvage import Saved, salvage
from firmware_py.journal.store import Journal

_BESIDE = ("", "-wal", "-shm")


def open_or_recover(path: Path) -> tuple[Journal, str]:
    """Return the journal at ``path`` and, if it was damaged, the words a person should read about that.

    The chains of the open runs and prints are proved at every start, the pages after a program that did not
    end in good order. A damaged file is kept beside the new one and never changed. Raises `JournalRefused`
    for everything but damage.
    """
    left_open = _has_log(path)
    journal: Journal | None = None
    try:
        journal = Journal.open(path)
        what = (journal.page_damage() if left_open else "") or journal.open_damage()
    except JournalRefused as refused:
        if not refused.damaged:
            raise
        what = refused.what
    if journal is not None and not what:
        return journal, ""
    if journal is not None:
        journal.close()
    return _begun_anew(path, what)


def _begun_anew(path: Path, what: str) -> tuple[Journal, str]:
    aside = _set_aside(path)
    try:
        saved = salvage(aside, path)
    except JournalRefused:
        saved = Saved()
    lost = f"{saved.rest} are kept as text beside it" if saved.rest else "none that could be read is missing"
    words = (
        f"The journal was damaged ({what}) and is kept as {aside.name}. {saved.events} events were saved, "
    )
    return Journal.open(path), f"{words}{saved.mended} of them mended; {lost}."


def _set_aside(path: Path) -> Path:
    names = (path.with_name(f"{path.stem}.damaged-{n}{path.suffix}") for n in count(1))
    aside = next(name for name in names if not name.exists())
    for ending in _BESIDE:
        file = path.with_name(path.name + ending)
        if file.exists():
            file.rename(aside.with_name(aside.name + ending))
    return aside


def _has_log(path: Path) -> bool:
    log = path.with_name(path.name + "-wal")
    return log.exists() and log.stat().st_size > 0
