"""The store keeps what it acknowledged, in order, and refuses the rest without leaving anything half-done."""

from __future__ import annotations

import math
import sqlite3
import stat
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.facts.events.run import AnyEvent, BenchStarted, Entry, NoteWritten, TemperatureRead
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.rows import KINDS
from firmware_py.journal.store import Journal
from tests.journal.making import entry, notes, run_entries, subject

A, B = subject(1), subject(2)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "book" / "journal.db"


def test_what_was_appended_is_read_back_in_order(path):
    run = run_entries(A)
    with Journal.open(path) as journal:
        journal.append(run[:3])
        journal.append(notes(B, 1, 2))
        journal.append(run[3:])
        assert journal.read(A) == run
        assert journal.read(A, after=3) == run[3:]
        assert journal.read(subject(9)) == []
        assert journal.last_number(A) == len(run)


def test_a_journal_closed_and_opened_again_goes_on_where_it_was(path):
    with Journal.open(path) as journal:
        journal.append(notes(A, 1, 3))
    with Journal.open(path) as journal:
        journal.append(notes(A, 4, 5))
        assert journal.read(A) == notes(A, 1, 5)


def test_subjects_are_listed_by_their_first_event(path):
    with Journal.open(path) as journal:
        journal.append(run_entries(B))
        journal.append([entry(A, 1, BenchStarted(program="0.1.0", rehearsal=True))])
        assert journal.subjects() == [A, B]
        assert journal.subjects("RunOpened") == [B]
        assert journal.subjects("BenchStarted") == [A]


@pytest.mark.parametrize("number", [0, 1, 3, -1])
def test_a_number_out_of_turn_is_refused_with_the_one_that_is_allowed(path, number):
    with Journal.open(path) as journal:
        journal.append(notes(A, 1, 1))
        with pytest.raises(JournalRefused, match=r"does not follow number 1; allowed: number 2"):
            journal.append([entry(A, number, NoteWritten(text="x"))])
        assert journal.read(A) == notes(A, 1, 1)


def test_one_refused_entry_leaves_none_of_its_batch(path):
    with Journal.open(path) as journal:
        journal.append(notes(A, 1, 1))
        with pytest.raises(JournalRefused):
            journal.append([*notes(A, 2, 4), *notes(B, 1, 1), entry(A, 9, NoteWritten(text="x"))])
        assert journal.subjects() == [A]
        journal.append(notes(A, 2, 4))
        assert journal.read(A) == notes(A, 1, 4)


@pytest.mark.parametrize("bath_degC", [math.nan, math.inf])
def test_a_number_that_json_can_not_carry_is_refused(path, bath_degC):
    with Journal.open(path) as journal, pytest.raises(JournalRefused, match=r"can not be kept|finite"):
        journal.append([entry(A, 1, TemperatureRead(bath_degC=bath_degC, tolerance_K=0.5, source="hand"))])


def test_an_entry_with_a_place_that_makes_no_sense_is_refused(path):
    with Journal.open(path) as journal:
        with pytest.raises(JournalRefused, match="not a UUID"):
            journal.append([entry("my run", 1, NoteWritten(text="x"))])
        with pytest.raises(JournalRefused, match="not a time since"):
            journal.append([entry(A, 1, NoteWritten(text="x"), boot_s=-1.0)])
        assert journal.subjects() == []


def test_the_file_itself_refuses_to_change_remove_or_squeeze_in_an_event(path):
    with Journal.open(path) as journal:
        journal.append(notes(A, 1, 3))
    stranger = sqlite3.connect(path)
    columns = "subject, number, boot_id, boot_s, utc, kind, schema, body, hash"
    for deed in (
        "UPDATE event SET body = '{}' WHERE number = 2",
        "DELETE FROM event WHERE number = 3",
        f"INSERT INTO event (seq, {columns}) SELECT 9, {columns} FROM event WHERE number = 3",
        f"INSERT OR REPLACE INTO event (seq, {columns}) SELECT seq, {columns} FROM event WHERE number = 3",
    ):
        with pytest.raises(sqlite3.IntegrityError, match="an event"):
            stranger.execute(deed)
    stranger.close()


def test_a_closed_journal_refuses_and_may_be_closed_again(path):
    journal = Journal.open(path)
    journal.close()
    journal.close()
    with pytest.raises(JournalRefused, match="closed"):
        journal.append(notes(A, 1, 1))


def test_the_file_and_its_folder_are_for_the_owner_only(path):
    with Journal.open(path) as journal:
        journal.append(notes(A, 1, 1))
        assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
        modes = {file.name: stat.S_IMODE(file.stat().st_mode) for file in path.parent.iterdir()}
    assert modes == dict.fromkeys(
        ("journal.db", "journal.db-wal", "journal.db-shm", "journal.db.lock", "journal.db.ballast"), 0o600
    )


def test_a_reader_sees_what_was_written_while_the_journal_is_open(path):
    with Journal.open(path) as journal:
        journal.append(notes(A, 1, 2))
        with JournalReader.open(path) as reader:
            assert reader.read(A) == notes(A, 1, 2)
            journal.append(notes(A, 3, 3))
            assert reader.read(A, after=2) == notes(A, 3, 3)
            assert reader.subjects() == [A]


def test_a_reader_can_not_write(path):
    with Journal.open(path) as journal, JournalReader.open(path) as reader:
        journal.append(notes(A, 1, 1))
        with pytest.raises(sqlite3.OperationalError, match="readonly"):
            reader.connection.execute("CREATE TABLE mine (x)")


def test_a_reader_of_a_closed_journal_sees_all_of_it(path):
    with Journal.open(path) as journal:
        journal.append(notes(A, 1, 2))
    with JournalReader.open(path) as reader:
        assert reader.read(A) == notes(A, 1, 2)


words = st.text(st.characters(exclude_categories=["Cs"]), max_size=60)
# Within what `facts.quantities` allows of a bath; what is outside is in test_absurd_facts.py.
degrees, tolerances = st.floats(-100.0, 300.0), st.floats(0.0, 1000.0)
events: st.SearchStrategy[AnyEvent] = st.one_of(
    st.builds(NoteWritten, text=words),
    st.builds(BenchStarted, program=words, rehearsal=st.booleans()),
    st.builds(
        TemperatureRead, bath_degC=degrees, tolerance_K=tolerances, source=st.sampled_from(["probe", "hand"])
    ),
)


@settings(max_examples=30, deadline=None)
@given(
    batches=st.lists(
        st.lists(st.tuples(st.integers(0, 3), events, st.floats(0, 1e9)), max_size=6), max_size=5
    )
)
def test_any_events_in_any_batches_are_read_back_as_they_were(tmp_path_factory, batches):
    path = tmp_path_factory.mktemp("any") / "journal.db"
    told: dict[str, list[Entry]] = {subject(n): [] for n in range(4)}
    with Journal.open(path, ballast_bytes=4096) as journal:
        for batch in batches:
            entries = []
            for n, event, boot_s in batch:
                of = subject(n)
                told[of].append(entry(of, len(told[of]) + 1, event, boot_s))
                entries.append(told[of][-1])
            journal.append(entries)
    with JournalReader.open(path) as reader:
        assert {of: reader.read(of) for of in told} == told


def test_every_kind_of_event_has_its_own_name_and_schema():
    assert all(name == kind.__name__ and kind.SCHEMA >= 1 for name, kind in KINDS.items())
