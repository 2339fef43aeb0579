"""Opens the bench's journal whatever became of it: a damaged one is set aside, what can be saved goes on."""

from __future__ import annotations

import shutil
from itertools import count
from pathlib import Path

from firmware_py.journal.connect import open_for_reading
from firmware_py.journal.in_place import saved_books
from firmware_py.journal.newest import missing_in
from firmware_py.journal.refused import TROUBLES, JournalRefused
from firmware_py.journal.salvage import Saved, salvage
from firmware_py.journal.store import Journal

_BESIDE = ("", "-wal", "-shm", ".newest")


def open_or_recover(path: Path) -> tuple[Journal, str]:
    """Return the journal at ``path`` and, if it was damaged, the words a person should read about that.

    The chains of the open runs and prints are proved at every start, the pages after a program that did not
    end in good order. A damaged file is kept beside the new one and never changed. Raises `JournalRefused`
    for everything but damage.
    """
    told = [_taken_back(path), _kept_if_events_are_missing(path)]
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
        if journal.missing and not told[1]:
            told[1] = f"The journal is not whole: {journal.missing}."
        journal.accept_missing()
        return journal, " ".join(filter(None, told))
    if journal is not None:
        journal.close()
    return _begun_anew(path, what)


def _taken_back(path: Path) -> str:
    """Go on with the book that was saved when its file was deleted, or say that there is one."""
    saved = saved_books(path)
    if not saved:
        return ""
    if path.exists():
        return f"{saved[-1].name} is the book that was replaced while in use: merge it, then take it away."
    for ending in _BESIDE:
        file = saved[-1].with_name(saved[-1].name + ending)
        if file.exists():
            file.rename(path.with_name(path.name + ending))
    return f"The journal was deleted while in use; the book goes on with what was saved as {saved[-1].name}."


def _kept_if_events_are_missing(path: Path) -> str:
    """Keep a copy of a journal that has lost its newest events, before it is opened to be written; say so."""
    try:
        connection = open_for_reading(path)
    except JournalRefused:
        return ""
    try:
        missing = missing_in(connection, path)
    except TROUBLES:  # damage, which is told of when it is opened to be written
        return ""
    finally:
        connection.close()
    return f"The journal is not whole: {missing}. It is kept as {_copied(path)}." if missing else ""


def _copied(path: Path) -> str:
    target = _aside_name(path)
    for ending in _BESIDE:
        file = path.with_name(path.name + ending)
        if file.exists():
            copy = target.with_name(target.name + ending)
            copy.touch(0o600)
            shutil.copyfile(file, copy)
    return target.name


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
    aside = _aside_name(path)
    for ending in _BESIDE:
        file = path.with_name(path.name + ending)
        if file.exists():
            file.rename(aside.with_name(aside.name + ending))
    return aside


def _aside_name(path: Path) -> Path:
    names = (path.with_name(f"{path.stem}.damaged-{n}{path.suffix}") for n in count(1))
    return next(name for name in names if not name.exists())


def _has_log(path: Path) -> bool:
    log = path.with_name(path.name + "-wal")
    return log.exists() and log.stat().st_size > 0
