"""The sheet of a run tells everything the book knows of it, and nothing else."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.journal.outcome import outcome
from firmware_py.report.sheets.history import history_of
from firmware_py.report.sheets.html import html_of
from firmware_py.report.sheets.page import Facts, Page, Table, Words
from firmware_py.report.sheets.run_sheet import run_page
from firmware_py.report.told import clock
from tests.journal.making import ROUTINE, run_entries
from tests.report.sheets.making import RUN, Read, a_history, a_page, a_print


def read(page: Page) -> str:
    return Read(html_of(page, "A4").decode()).text


def table(page: Page, title: str) -> Table:
    (found,) = (b for b in page.blocks if isinstance(b, Table) and b.title == title)
    return found


def facts(page: Page, title: str) -> dict[str, str]:
    (found,) = (b for b in page.blocks if isinstance(b, Facts) and b.title == title)
    return {fact.name: fact.value for fact in found.facts}


def test_every_mark_step_note_and_the_id_stand_on_the_page():
    history = a_history("thin sky", "two lines\nof one note")
    came = outcome(history.record)
    said = read(run_page(history))
    for words in ("half plate 7", ROUTINE.title, ROUTINE.source, RUN, "pulled", "thin sky", "of one note"):
        assert words in said
    assert [row[1] for row in table(run_page(history), "Marks").rows] == [mark.what for mark in came.marks]
    assert {mark.what for mark in came.marks} == {"image appears", "shadow detail shows"}
    assert all(mark.what in said for mark in came.marks)
    assert f"{clock(came.elapsed_s or 0)}" in said
    assert f"{clock(came.equivalent_s or 0)}" in said


def test_steps_are_told_planned_and_done():
    rows = table(run_page(a_history()), "Steps, planned and done").rows
    assert [row[:4] for row in rows] == [
        ("Develop", "pyro-soda", "6:00", "6:01"),
        ("Rinse", "water", "0:30", "0:31"),
        ("Fix", "plain hypo", "10:00", "10:05"),
    ]


def test_what_was_not_done_is_said_and_so_is_a_run_that_goes_on():
    page = run_page(a_history(ended=False))
    assert [row[3] for row in table(page, "Steps, planned and done").rows] == [
        "going on", "not done", "not done"
    ]  # fmt: skip
    assert facts(page, "")["Ended"] == "NOT YET: running"


def test_a_print_stands_on_it_with_lamp_strip_burns_sheets_verdict_and_note():
    made = a_print()
    said = read(run_page(a_history(), [made]))
    for words in (made.paper, made.lamp, made.print_id, "+1.00 stops sky", *made.verdicts, *made.notes):
        assert words in said
    for sheet in made.sheets:
        assert f"{sheet.sheet} {sheet.kind} {sheet.ended}" in said
        assert f"{sheet.measured_s:.3f} s" in said
    assert "2.00, 4.00, 8.00 s by covering; patch 2 chosen" in said


def test_a_rehearsal_is_said_large_and_a_real_run_is_not_one():
    page = a_page()
    assert page.banner == "REHEARSAL"
    assert '<div class="banner"><strong>REHEARSAL</strong>' in html_of(page, "A4").decode()
    assert "REHEARSAL" not in read(run_page(a_history(rehearsal=False)))


def test_how_sure_the_temperature_makes_the_time_is_worked_by_hand():
    """0.5 K at 0.08 per K is 4 %, first order; of 6:05 that is 15 s."""
    sure = facts(run_page(a_history()), "How sure")
    assert (
        sure["Temperature"]
        == "± 0.5 K at worst (14 by probe), the rate's own doubt with it: equivalent time ± 4.0 %, 15 s"
    )
    assert sure["Times"] == "boot clock, not interrupted"


def test_what_the_book_does_not_know_has_room_to_be_written():
    page = run_page(a_history())
    assert set(facts(page, "Exposure").values()) == {""}
    assert set(facts(page, "Verdict").values()) == {""}
    known = run_page(a_history(), exposure=[("Side", "3B"), ("Stop", "f/16")], verdict=[("Density", "thin")])
    assert facts(known, "Exposure") == {"Side": "3B", "Stop": "f/16"}
    assert facts(known, "Verdict") == {"Density": "thin"}


def test_the_curve_is_the_folds_own():
    history = a_history()
    (curve,) = history.curves()
    developed = history.record.development
    assert developed is not None
    assert curve.points[-1].equivalent_s == developed.equivalent_s
    assert curve.points[0].elapsed_s == 0.0
    assert curve.points[-1].elapsed_s == (developed.ended_s or 0) - developed.started_s
    assert [(mark.number, mark.elapsed_s) for mark in curve.marks] == [(1, 61.0), (2, 195.0)]
    assert len(curve.points) == 14


def test_a_run_before_its_first_step_has_no_curve_and_no_marks():
    page = run_page(history_of(run_entries(RUN)[:1]))
    assert [block for block in page.blocks if isinstance(block, Words)] == [Words("Marks", ("none",))]
    assert not [block for block in page.blocks if block.kind == "curve"]
    assert RUN in read(page)


def test_a_run_without_entries_is_refused():
    with pytest.raises(Refused, match="without entries"):
        history_of([])
