"""Damage is found wherever it is, said with its place, and what can be saved is saved."""

from __future__ import annotations

import random
import sqlite3
from pathlib import Path

import pytest

from firmware_py.journal.reading import JournalReader
from firmware_py.journal.recover import open_or_recover
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.salvage import rest_of, salvage
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.journal.damage import event_cells, flipped
from tests.journal.making import BOOT, numbered, run_entries, subject

A, B = subject(1), subject(2)
COLUMNS = ("subject", "number", "boot_id", "boot_s", "utc", "kind", "schema", "body", "hash")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "journal.db"


@pytest.fixture
def small(path: Path) -> Path:
    """A closed journal of one short run, small enough for one page."""
    with Journal.open(path) as journal:
        journal.append(run_entries(A, readings=4, ended=False))
    return path


def refused_or_found(path: Path) -> list[str]:
    try:
        return [f"{fault.where}: {fault.what}" for fault in verify(path).faults]
    except JournalRefused as refused:
        return [refused.line]


def change(path: Path, *deeds: str) -> None:
    """Change a journal behind its back."""
    stranger = sqlite3.connect(path)
    triggers = stranger.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
    for name, _ in triggers:
        stranger.execute(f"DROP TRIGGER {name}")
    for deed in (*deeds, *(sql for _, sql in triggers)):
        stranger.execute(deed)
    stranger.commit()
    stranger.close()


def test_a_good_journal_has_no_faults_also_while_it_is_written(path):
    whole, begun = run_entries(A), run_entries(B)
    with Journal.open(path) as journal:
        journal.append(whole)
        journal.append(begun[:4])
        found = verify(path)
    assert found.faults == []
    assert (found.events, found.subjects, found.runs) == (len(whole) + 4, 2, 2)


def test_a_flipped_bit_in_any_byte_of_an_event_is_found(small):
    """One bit of each byte of one event's values, and every bit of what says how long they are.

    But one: the first type in the header stands for ``seq``, which SQLite reads from elsewhere; of its eight
    flips, those that keep its length of 0 bytes change nothing, so that there is nothing to be found.
    """
    raw, dice = small.read_bytes(), random.Random(5)
    cell = event_cells(small)[3]
    flips = [(place, dice.randrange(8)) for place in range(cell.values, cell.end)]
    flips += [(place, bit) for place in range(cell.start, cell.values) for bit in range(8)]
    with JournalReader.open(small) as reader:
        written = reader.read(A)
    missed = []
    for place, bit in flips:
        small.write_bytes(flipped(raw, place, bit))
        if not refused_or_found(small):
            missed.append(place)
            with JournalReader.open(small) as reader:
                assert reader.read(A) == written
    assert missed in ([], [cell.header + 1])
    small.write_bytes(raw)
    assert refused_or_found(small) == []


def changed_value(column: str) -> str:
    return {
        "number": "number + 16",
        "schema": "schema | 2",
        "boot_s": "boot_s + 0.0000001",
        "hash": "zeroblob(32)",
        "subject": f"'{B}'",
    }.get(column, f"replace({column}, substr({column}, 3, 1), '7')")


@pytest.mark.parametrize("column", COLUMNS)
def test_a_changed_column_is_told_with_the_place_of_its_event(small, column):
    change(small, f"UPDATE event SET {column} = {changed_value(column)} WHERE number = 3")
    found = refused_or_found(small)
    assert any(f"event {19 if column == 'number' else 3} of" in words for words in found), found


@pytest.mark.parametrize(
    ("deed", "told"),
    [
        ("DELETE FROM event WHERE number = 3", "row 4: it follows row 2"),
        ("UPDATE event SET seq = seq + 1 WHERE number = 7", "row 8: it follows row 6"),
        ("UPDATE run SET equivalent_s = 1", f"run {A}: equivalent_s is 1.0, replayed"),
        ("DROP INDEX event_first", "event_first is missing from the file"),
        ("DROP TABLE run_words", "run_words is missing from the file"),
    ],
)
def test_what_was_done_behind_the_journals_back_is_told(small, deed, told):
    change(small, deed)
    assert any(told in words for words in refused_or_found(small)), refused_or_found(small)


def test_a_journal_whose_triggers_were_dropped_is_told(small):
    stranger = sqlite3.connect(small)
    stranger.execute("DROP TRIGGER event_is_never_changed")
    stranger.close()
    assert refused_or_found(small) == [f"{small}: event_is_never_changed is missing from the file"]


def test_a_flipped_bit_is_mended_and_everything_saved(small, tmp_path):
    raw, dice = small.read_bytes(), random.Random(7)
    with JournalReader.open(small) as reader:
        written = reader.read(A)
    cell = event_cells(small)[2]
    for n, place in enumerate(dice.sample(range(cell.values, cell.end), 40)):
        small.write_bytes(flipped(raw, place, dice.randrange(8)))
        target = tmp_path / f"saved {n}.db"
        saved = salvage(small, target)
        assert (saved.events, saved.rest) == (len(written), 0), place - cell.values
        assert saved.mended == 1
        assert verify(target).faults == []
        with JournalReader.open(target) as reader:
            assert reader.read(A) == written
        assert not rest_of(target).exists()


def test_a_lost_page_costs_only_what_hung_on_it_and_the_rest_stands_as_text(path, tmp_path):
    runs = [run_entries(subject(n), readings=30) for n in range(1, 13)]
    with Journal.open(path) as journal:
        for run in runs:
            journal.append(run)
    raw = bytearray(path.read_bytes())
    place = raw.index(subject(6).encode() + bytes([20]) + BOOT.encode()) // 4096 * 4096
    raw[place : place + 4096] = bytes(4096)
    path.write_bytes(raw)
    assert refused_or_found(path) != []
    target = tmp_path / "saved.db"
    saved = salvage(path, target)
    assert verify(target).faults == []
    total = sum(map(len, runs))
    assert saved.events > total // 2
    assert len(rest_of(target).read_text(encoding="utf-8").splitlines()) == saved.rest
    with JournalReader.open(target) as reader:
        for run in runs:
            kept = reader.read(run[0].subject)
            assert kept == run[: len(kept)]


def test_a_journal_without_its_first_page_is_refused_and_nothing_is_made(small, tmp_path):
    raw = bytearray(small.read_bytes())
    raw[:4096] = bytes(4096)
    small.write_bytes(raw)
    assert "not a journal" in refused_or_found(small)[0]
    with pytest.raises(JournalRefused, match="not a journal"):
        salvage(small, tmp_path / "saved.db")
    assert not (tmp_path / "saved.db").exists()


def test_saving_never_writes_over_a_file(small, tmp_path):
    for name in ("saved.db", "saved.db.rest.jsonl"):
        (tmp_path / name).write_text("mine", encoding="utf-8")
        with pytest.raises(JournalRefused, match="such a file already"):
            salvage(small, tmp_path / "saved.db")
        assert (tmp_path / name).read_text(encoding="utf-8") == "mine"
        (tmp_path / name).unlink()


def test_a_run_that_can_not_be_replayed_is_told(path):
    """Events that never could happen in this order, with a chain that is whole."""
    run = run_entries(A)
    with Journal.open(path) as journal:
        journal._projections.follow = lambda entries: None  # type: ignore[method-assign]
        journal.append(numbered(A, [(0.0, run[0].event), (1.0, run[-2].event)]))
    assert any("can not be replayed" in words for words in refused_or_found(path)), refused_or_found(path)


def test_a_damaged_schema_whose_words_are_no_text_is_damage_and_not_a_crash(small):
    small.write_bytes(small.read_bytes().replace(b"CREATE TABLE event", b"CREATE T\xcbBLE event", 1))
    with pytest.raises(JournalRefused) as refused:
        Journal.open(small)
    assert refused.value.damaged
    assert refused_or_found(small)
    journal, words = open_or_recover(small)
    journal.close()
    assert "was damaged" in words
