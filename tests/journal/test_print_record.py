"""A print is what its events make it, and nothing that can not happen is ever taken in."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import print as pe
from firmware_py.facts.events.run import AnyEvent, NoteWritten
from firmware_py.journal.print_outcome import print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_rows import newest_prints, newest_programs
from firmware_py.journal.print_states import BETWEEN_SHEETS, DOING, KEEPS_STATE, STATE_WORDS, TRANSITIONS
from firmware_py.journal.projections import faults
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal
from tests.journal.making import entry, subject
from tests.journal.making_prints import LAG_S, lit, print_entries, print_events

A = subject(1)


def record_after(events: list[AnyEvent]) -> PrintRecord:
    return PrintRecord.replay([entry(A, n, event) for n, event in enumerate(events, 1)])


def test_the_outcome_of_a_print_adds_up_its_starts():
    """Two seconds, and the rest of four with the lag once more."""
    came = print_outcome(PrintRecord.replay(print_entries(A)))
    base = next(s for s in came.sheets if s.kind == "print" and s.ended == "finished")
    assert [e.measured_s for e in base.exposures] == pytest.approx([2.0, 2.1, 1.5])
    assert [e.effective_s for e in base.exposures] == pytest.approx([1.95, 2.05, 1.45])
    assert [e.estimated for e in base.exposures] == [False, False, True]
    assert base.planned_s == pytest.approx(2 * (4.0 + LAG_S))
    assert [p.effective_s for p in came.patches] == pytest.approx([2.0, 4.0, 8.0])
    assert [p.measured_s for p in came.patches] == pytest.approx([2.05, 4.10, 8.15])
    assert came.verdicts == ("sky still thin",)


def test_a_hand_under_a_warming_lamp_gets_the_dose_of_its_light():
    """From 10 s to 13 s after lighting, light rising from 0.55 to 0.565."""
    hand = PrintRecord.replay(print_entries(A)).sheets[-1].exposures[0]
    assert hand.effective_s == pytest.approx(3.0 * (0.55 + 0.565) / 2)


def test_every_event_of_a_print_is_in_the_invented_one():
    """So that the kept journal and this file speak of all of them."""
    from typing import get_args

    assert {type(e) for e in print_events()} == {*get_args(pe.AnyPrintEvent), NoteWritten}


def test_the_table_of_states_is_whole():
    """Every state has words, can be reached, and every event it names can happen somewhere."""
    reached = {"dark", *TRANSITIONS.values(), "warm"}
    assert reached == set(STATE_WORDS)
    named = {kind for _, kind in TRANSITIONS} | set(KEEPS_STATE)
    assert set(DOING) | {pe.ExposureRefused, pe.ExposureBegan, pe.ExposureEnded} <= named
    assert named >= BETWEEN_SHEETS


@pytest.mark.parametrize(
    ("before", "event", "words"),
    [
        ([], pe.ExposureBegan(exposure="x", at_s=1.0), "while the lamp is dark"),
        ([], pe.FrameUncovered(exposure="x", part="base", at_s=1.0), "while the lamp is dark"),
        ([], pe.ExposureAnnounced(exposure="x", part="strip", ceiling_s=1.0), "no strip is planned"),
        ([], pe.ExposureAnnounced(exposure="x", part="bulb", ceiling_s=1.0), "the lamp is timed"),
        ([], pe.SheetFinished(sheet=1), "no such sheet"),
        ([], pe.BurnRemoved(burn=1), "no such burn"),
        ([], pe.RestForgone(part="base", number=1), "nothing is wanting"),
        ([pe.PrintEnded(why="done")], pe.BaseSet(base_s=1.0, how="person"), "the print is over"),
        (lit("x", 1.0, 2.0, "base")[:1], pe.ExposureBegan(exposure="y", at_s=1.0), "another exposure"),
        (lit("x", 1.0, 2.0, "base")[:2], pe.BaseSet(base_s=1.0, how="person"), "an exposure goes on"),
        (
            lit("x", 1.0, 2.0, "base"),
            pe.BaseSet(base_s=1.0, how="person"),
            "a sheet is half exposed; allowed: give it the rest",
        ),
    ],
)
def test_what_can_not_happen_is_refused_in_words(before, event, words):
    """Cannot … while …, and the record is as it was."""
    record = record_after([print_events()[0], *before])
    again = record_after([print_events()[0], *before])
    with pytest.raises(Refused, match=words):
        record.apply(entry(A, record.number + 1, event))
    assert record == again


def test_rows_of_prints_are_right_after_every_single_event(tmp_path: Path):
    """The table follows in the same transaction, and programs are found in it."""
    with Journal.open(tmp_path / "journal.db") as journal:
        for one in print_entries(A):
            journal.append([one])
            assert list(faults(journal._connection)) == []
            assert len(journal.open_prints()) == (0 if one.number >= len(print_events()) - 1 else 1)
        (row,) = newest_prints(journal._connection, of_run="0192-plate")
        assert (row.prints, row.patches, row.verdict) == (1, 3, "sky still thin")
        (program,) = newest_programs(journal._connection)
        assert (program.program_base_s, program.program_burns) == (4.0, '[[1.0,"sky"]]')
        with pytest.raises(JournalRefused, match="the print is over"):
            journal.append([entry(A, row.number + 1, pe.PrintEnded(why="done"))])


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_no_order_of_events_makes_a_record_that_lies(data):
    """Events in any order are taken in or refused; what the record says of light stays true throughout."""
    record = record_after(print_events()[:1])
    events = print_events()[1:]
    for _ in range(data.draw(st.integers(1, 40))):
        event = data.draw(st.sampled_from(events))
        try:
            record.apply(entry(A, record.number + 1, event))
        except Refused:
            continue
        lit_now = record.state in {"announced", "lit", "warm", "uncovered"}
        assert (record.lamp_lit is not None) == lit_now
        for sheet in record.sheets:
            assert all(slot.given_s >= 0.0 for slot in sheet.slots())
            assert [s.number for s in record.sheets] == list(range(1, len(record.sheets) + 1))
        print_outcome(record)
