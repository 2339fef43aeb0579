"""The bench opens its journal also after damage, goes on with what is whole, and keeps the damaged file."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from firmware_py.journal.reading import JournalReader
from firmware_py.journal.recover import open_or_recover
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.journal.damage import event_cells, flipped
from tests.journal.making import BOOT, run_entries, subject

A = subject(1)
RUN = run_entries(A, readings=4, ended=False)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "journal.db"
    with Journal.open(path) as journal:
        journal.append(RUN)
    return path


def test_a_whole_journal_is_opened_without_a_word(path):
    journal, words = open_or_recover(path)
    assert (words, journal.read(A)) == ("", RUN)
    journal.close()
    assert not list(path.parent.glob("*damaged*"))


def test_a_flipped_bit_in_an_open_run_is_mended_at_the_start_and_the_run_goes_on(path):
    raw, dice = path.read_bytes(), random.Random(3)
    cell = event_cells(path)[4]
    damaged = flipped(raw, dice.randrange(cell.end - 60, cell.end - 33), 1)  # within the reading's body
    path.write_bytes(damaged)
    journal, words = open_or_recover(path)
    assert "The journal was damaged" in words
    assert f"{len(RUN)} events were saved, 1 of them mended; none that could be read is missing." in words
    assert journal.read(A) == RUN
    journal.append(run_entries(A, readings=4)[len(RUN) :])
    journal.close()
    assert verify(path).faults == []
    assert (path.parent / "journal.damaged-1.db").read_bytes() == damaged


def test_a_file_that_is_no_journal_any_more_is_kept_and_a_new_one_begun(path):
    for n in (1, 2):
        path.write_bytes(b"nothing that could be read " * 1000)
        journal, words = open_or_recover(path)
        assert f"journal.damaged-{n}.db. 0 events were saved" in words
        assert journal.subjects() == []
        journal.append(RUN)
        journal.close()
    with JournalReader.open(path) as reader:
        assert reader.read(A) == RUN


def test_lost_pages_after_a_power_cut_are_found_at_the_start(path, tmp_path):
    ended = [run_entries(subject(n), readings=30) for n in range(2, 8)]
    cut = tmp_path / "cut"
    cut.mkdir()
    with Journal.open(path) as journal:
        for run in ended:
            journal.append(run)
        journal._connection.execute("PRAGMA wal_checkpoint(RESTART)")
        journal.append(run_entries(subject(9)))
        for file in tmp_path.glob("journal.db*"):
            shutil.copy(file, cut / file.name)
    raw = bytearray((cut / "journal.db").read_bytes())
    place = raw.index(subject(4).encode() + bytes([20]) + BOOT.encode()) // 4096 * 4096
    raw[place : place + 4096] = bytes(4096)
    (cut / "journal.db").write_bytes(raw)
    journal, words = open_or_recover(cut / "journal.db")
    assert "The journal was damaged" in words
    assert journal.read(A) == RUN
    assert journal.read(subject(9)) == run_entries(subject(9))
    journal.close()
    assert verify(cut / "journal.db").faults == []


def test_what_is_not_damage_is_refused_as_ever(path):
    with Journal.open(path), pytest.raises(JournalRefused, match="another program writes it"):
        open_or_recover(path)
    assert not list(path.parent.glob("*damaged*"))
