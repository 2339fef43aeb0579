"""A journal that is deleted or replaced in use acknowledges nothing more, and all of it is kept beside."""

from __future__ import annotations

import asyncio
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from firmware_py.bench.book_keeper import LOOK_AFTER_S, BookKeeper
from firmware_py.craft.refusal import Refused
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.recover import open_or_recover
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.journal.making import notes, subject

A = subject(1)


def _deleted(path: Path) -> None:
    for ending in ("", "-wal", "-shm"):
        path.with_name(path.name + ending).unlink()


def _moved(path: Path) -> None:
    path.rename(path.with_name("elsewhere.db"))


def _replaced(path: Path) -> None:
    other = path.with_name("other.db")
    Journal.open(other, ballast_bytes=0).close()
    other.replace(path)


@pytest.mark.parametrize("harm", [_deleted, _moved, _replaced])
def test_nothing_more_is_acknowledged_and_all_of_it_is_kept(tmp_path: Path, harm: Callable[[Path], None]):
    path = tmp_path / "journal.db"
    with Journal.open(path, ballast_bytes=0) as journal:
        journal.append(notes(A, 1, 5))
        harm(path)
        for _ in range(2):  # it is tried again, and refused again
            with pytest.raises(JournalRefused, match=r"kept in journal\.saved-1\.db"):
                journal.append(notes(A, 6, 7))
        with pytest.raises(JournalRefused, match="while it was in use"):
            journal.look_after()
    saved = tmp_path / "journal.saved-1.db"
    assert stat.S_IMODE(saved.stat().st_mode) == 0o600
    with JournalReader.open(saved) as reader:
        assert reader.read(A) == notes(A, 1, 7)


def test_the_next_start_goes_on_with_what_was_saved(tmp_path: Path):
    path = tmp_path / "journal.db"
    with Journal.open(path, ballast_bytes=0) as journal:
        journal.append(notes(A, 1, 5))
        _deleted(path)
        with pytest.raises(JournalRefused):
            journal.append(notes(A, 6, 7))
    again, words = open_or_recover(path)
    assert "deleted while in use" in words
    with again:
        again.append(notes(A, 8, 8))
        assert again.read(A) == notes(A, 1, 8)
    assert verify(path).faults == []
    assert open_or_recover(path)[1] == ""


def test_a_saved_book_is_named_at_the_start_where_another_has_its_place(tmp_path: Path):
    path = tmp_path / "journal.db"
    with Journal.open(path, ballast_bytes=0) as journal:
        journal.append(notes(A, 1, 5))
        _replaced(path)
        with pytest.raises(JournalRefused):
            journal.append(notes(A, 6, 7))
    again, words = open_or_recover(path)
    again.close()
    assert "journal.saved-1.db is the book that was replaced" in words


async def test_the_keeper_notices_within_a_second_though_nothing_is_written(tmp_path: Path):
    troubles: list[str] = []
    path = tmp_path / "journal.db"
    assert 2 * LOOK_AFTER_S <= 1.0
    with Journal.open(path, ballast_bytes=0) as journal:
        told = asyncio.Event()

        def hear(why: str) -> None:
            troubles.append(why)
            told.set()

        keeper = BookKeeper(journal, at_once=False, trouble=hear)
        keeper.give(notes(A, 1, 1))
        await keeper.settled()
        _deleted(path)
        await asyncio.wait_for(told.wait(), 20)
        keeper.give(notes(A, 2, 2))
        with pytest.raises(Refused, match="not yet in the book"):
            await keeper.settled()
        await keeper.close()
    assert "deleted" in troubles[0]
    with JournalReader.open(tmp_path / "journal.saved-1.db") as reader:
        assert reader.read(A) == notes(A, 1, 2)
