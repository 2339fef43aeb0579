"""The rows of the runs follow from their events, at every moment and after any trouble."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.facts.events.run import (
    BenchStarted,
    MarkMade,
    NoteWritten,
    RunEnded,
    StepStarted,
    TemperatureRead,
)
from firmware_py.journal import projections
from firmware_py.journal.followed import FOLLOWED
from firmware_py.journal.outcome import outcome
from firmware_py.journal.projections import faults
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.run_list import newest_runs, run_called, runs_before, runs_with_words
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from tests.journal.making import entry, notes, run_entries, subject

A, B = subject(1), subject(2)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with Journal.open(tmp_path / "journal.db") as journal:
        yield journal


def rows(journal: Journal):
    return newest_runs(journal._connection)


def test_a_finished_run_has_a_row_with_what_came_of_it(journal):
    entries = run_entries(A)
    for one in entries:
        journal.append([one])
    came = outcome(RunRecord.replay(entries))
    (row,) = rows(journal)
    assert (row.run_id, row.plate, row.routine, row.rehearsal) == (A, "half plate 7", "half-plate", True)
    assert (row.state, row.ended, row.number) == ("ended", "pulled", len(entries))
    assert (row.elapsed_s, row.equivalent_s, row.target_s) == (came.elapsed_s, came.equivalent_s, 360.0)
    assert came.bath_degC is not None
    assert (row.bath_min_degC, row.bath_mean_degC, row.bath_max_degC) == (
        came.bath_degC.min,
        came.bath_degC.mean,
        came.bath_degC.max,
    )
    assert (row.marks, row.notes) == (1, 0)


def test_rows_are_right_after_every_single_event(journal):
    for one in run_entries(A):
        journal.append([one])
        assert list(faults(journal._connection)) == []


def test_an_event_that_can_not_happen_to_its_run_is_refused_and_the_run_goes_on(journal):
    entries = run_entries(A)
    journal.append(entries[:3])
    for impossible in (
        RunEnded(ended="time"),
        StepStarted(step=0),
        BenchStarted(program="x", rehearsal=True),
    ):
        with pytest.raises(JournalRefused, match="cannot"):
            journal.append([entry(A, 4, impossible, entries[3].boot_s)])
    with pytest.raises(JournalRefused, match="cannot"):
        journal.append([*entries[3:6], entry(A, 7, RunEnded(ended="time"), entries[6].boot_s)])
    journal.append(entries[3:])
    assert journal.read(A) == entries
    assert list(faults(journal._connection)) == []


def test_a_run_may_only_be_opened_as_the_first_event_of_its_subject(journal):
    opened = run_entries(A)[0]
    journal.append(notes(B, 1, 1))
    with pytest.raises(JournalRefused, match="a run begins with RunOpened"):
        journal.append([entry(B, 2, opened.event)])


def test_open_runs_are_found_after_a_restart_and_go_on(tmp_path):
    path = tmp_path / "journal.db"
    whole, begun = run_entries(A), run_entries(B, plate="half plate 8")
    with Journal.open(path) as journal:
        journal.append(whole)
        journal.append(begun[:6])
    with Journal.open(path) as journal:
        assert [row.run_id for row in journal.open_runs()] == [B]
        journal.append(begun[6:])
        assert journal.open_runs() == []
        assert list(faults(journal._connection)) == []


@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_any_interleaving_of_runs_in_any_batches_keeps_the_rows_true(tmp_path_factory, data):
    path = tmp_path_factory.mktemp("mixed") / "journal.db"
    waiting = {
        subject(n): run_entries(
            subject(n), readings=data.draw(st.integers(0, 9)), ended=data.draw(st.booleans())
        )
        for n in range(3)
    }
    with Journal.open(path, ballast_bytes=4096) as journal:
        while any(waiting.values()):
            batch = []
            for of in data.draw(st.lists(st.sampled_from(sorted(waiting)), max_size=8)) or sorted(waiting):
                batch += [waiting[of].pop(0)] if waiting[of] else []
            journal.append(batch)
        before = rows(journal)
        assert list(faults(journal._connection)) == []
        assert journal.rebuild().rows == 3
        assert rows(journal) == before


def test_rebuilding_mends_rows_that_were_meddled_with(journal):
    journal.append(run_entries(A))
    journal.append(run_entries(B))
    good = rows(journal)
    for deed, told in (
        (
            "UPDATE run SET equivalent_s = equivalent_s + 0.001 WHERE place = (SELECT min(place) FROM run)",
            "equivalent_s",
        ),
        ("DELETE FROM run WHERE place = (SELECT max(place) FROM run)", "missing"),
        ("UPDATE run_words SET words = 'tea'", "words"),
        (f"UPDATE run SET run_id = '{subject(9)}' WHERE run_id = '{A}'", "without a run"),
    ):
        journal._connection.execute(deed)
        assert any(told in fault.what for fault in faults(journal._connection)), deed
        journal.rebuild()
        assert list(faults(journal._connection)) == []
        assert rows(journal) == good


def test_rows_made_by_another_version_of_the_program_are_made_anew_at_opening(tmp_path, monkeypatch):
    path = tmp_path / "journal.db"
    with Journal.open(path) as journal:
        journal.append(run_entries(A))
        journal._connection.execute("UPDATE run SET equivalent_s = 0")
    newer = [replace(kind, version=kind.version + 1) for kind in FOLLOWED]
    monkeypatch.setattr(projections, "FOLLOWED", newer)
    with Journal.open(path) as journal:
        assert list(faults(journal._connection)) == []


def test_the_list_is_newest_first_page_by_page_and_searched_by_the_beginnings_of_words(journal):
    for n in range(1, 8):
        journal.append(run_entries(subject(n), plate=f"Quay at low water, plate {n}", readings=3))
    journal.append(
        [entry(subject(3), journal.last_number(subject(3)) + 1, NoteWritten(text="Frilled at one corner"))]
    )
    connection = journal._connection
    assert [row.run_id for row in newest_runs(connection, 3)] == [subject(7), subject(6), subject(5)]
    assert [row.run_id for row in newest_runs(connection, 3, skip=3)] == [subject(4), subject(3), subject(2)]
    assert [row.run_id for row in runs_before(connection, subject(3))] == [subject(2), subject(1)]
    assert [row.run_id for row in runs_with_words(connection, "frill QUAY")] == [subject(3)]
    assert [row.run_id for row in runs_with_words(connection, "plate 6")] == [subject(6)]
    assert len(runs_with_words(connection, "low")) == 7
    assert runs_with_words(connection, "harbour") == []
    assert len(runs_with_words(connection, '"*()')) == 7
    assert runs_with_words(connection, 'NEAR("quay" OR') == []


def test_a_run_is_found_by_a_piece_of_its_id(journal):
    for n in (1, 0xABCDE):
        journal.append(run_entries(subject(n)))
    connection = journal._connection
    assert run_called(connection, "ABCDE").run_id == subject(0xABCDE)
    assert run_called(connection, subject(1)).run_id == subject(1)
    assert run_called(connection, "last").run_id == subject(0xABCDE)
    with pytest.raises(JournalRefused, match="several"):
        run_called(connection, "0192")
    with pytest.raises(JournalRefused, match="no such run"):
        run_called(connection, "ffff")
    with pytest.raises(JournalRefused, match="can not be a run's id"):
        run_called(connection, "%")


def test_ids_of_one_millisecond_have_places_of_their_own(journal):
    ids = [f"01920000-0001-7000-8000-{n:012x}" for n in range(3)]
    for run_id in ids:
        journal.append(run_entries(run_id, readings=0, ended=False))
    assert sorted(row.run_id for row in rows(journal)) == ids
    assert list(faults(journal._connection)) == []


def test_a_reading_does_not_rewrite_the_row(journal):
    entries = run_entries(A)
    journal.append(entries[:2])
    before = rows(journal)
    assert isinstance(entries[2].event, TemperatureRead)
    journal.append([entries[2]])
    assert rows(journal) == before
    journal.append([entry(A, 4, MarkMade(what="image appears", bath_degC=20.4), entries[2].boot_s + 1)])
    assert rows(journal) != before


def test_a_journal_of_the_first_schema_gets_its_rows_when_it_is_opened(tmp_path):
    path = tmp_path / "journal.db"
    with Journal.open(path) as journal:
        journal.append(run_entries(A))
        good = rows(journal)
    stranger = sqlite3.connect(path)
    for table in ("run", "run_words", "projection", "print", "bath", "box", "holder", "plate"):
        stranger.execute(f"DROP TABLE {table}")
    stranger.execute("PRAGMA user_version = 1")
    stranger.close()
    with pytest.raises(JournalRefused, match="older journal schema 1"):
        JournalReader.open(path)
    with Journal.open(path) as journal:
        assert rows(journal) == good
        assert list(faults(journal._connection)) == []
