"""A verdict is an event on its run: the last one on a plate counts, and the book is searched by it."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from firmware_py.craft.refusal import Refused
from firmware_py.journal.outcome import outcome
from firmware_py.journal.run_list import runs_with_words
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.journal.making import run_entries, subject
from tests.journal.making_verdicts import DRY, judged_run_entries

A, B = subject(1), subject(2)


def test_the_last_verdict_counts_and_changes_nothing_of_the_times():
    record = RunRecord.replay(judged_run_entries(A))
    plain, judged = outcome(RunRecord.replay(run_entries(A))), outcome(record)
    assert (judged.equivalent_s, judged.elapsed_s, judged.state) == (
        plain.equivalent_s,
        plain.elapsed_s,
        "ended",
    )
    (verdict,) = judged.verdicts
    assert (verdict.after, verdict.contrast, verdict.faults) == ("printing", "hard", ("pinholes", "stain"))


@pytest.mark.parametrize(
    ("verdict", "said"),
    [
        (replace(DRY, plate="half plate 9"), "no plate"),
        (replace(DRY, gamma=7.0), "0 to 6"),
        (replace(DRY, fog_density=-0.1), "0 to 5"),
        (replace(DRY, shadow_density=float("nan")), "0 to 5"),
        (replace(DRY, shadow_density=0.2, highlight_density=0.1), "in this order"),
        (replace(DRY, fog_density=0.5, highlight_density=0.4), "in this order"),
    ],
)
def test_what_no_plate_can_be_is_refused_and_changes_nothing(verdict, said):
    *entries, last = judged_run_entries(A, verdict)
    record = RunRecord.replay(entries)
    with pytest.raises(Refused, match=said):
        record.apply(last)
    assert record.verdicts == {}


def test_a_plate_still_in_its_baths_can_not_be_judged():
    *open_run, _ = run_entries(A)
    record = RunRecord.replay(open_run)
    with pytest.raises(Refused, match="cannot take PlateJudged while ready"):
        record.apply(replace(run_entries(A)[-1], event=DRY))


@pytest.fixture(scope="module")
def journal(tmp_path_factory):
    with Journal.open(tmp_path_factory.mktemp("book") / "journal.db") as journal:
        journal.append(judged_run_entries(A))
        journal.append(run_entries(B, plate="Slipway"))
        yield journal


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("breakwater", [A]),
        ("rather dense", [A]),
        ("SPRING 1", [A]),
        ("slip", [B]),
        ("pyro", [B, A]),
        ("2026-03-14", [B, A]),
        ("2026-03 stain", [A]),
        ("2026-04", []),
        ("2026", [B, A]),
        ("spring 1", [A]),
        ("s", []),
        ("", [B, A]),
    ],
)
def test_runs_are_found_by_box_developer_date_verdict_and_words(journal, words, found):
    assert [row.run_id for row in runs_with_words(journal._connection, words)] == found


def test_the_row_tells_the_verdict_and_the_book_is_whole(journal):
    judged, plain = runs_with_words(journal._connection, "")[::-1]
    assert (judged.box, judged.developer, judged.density, judged.contrast, judged.fog, judged.judged) == (
        "spring 1",
        "pyro-soda",
        "rather dense",
        "hard",
        "slight",
        1,
    )
    assert (plain.box, plain.density, plain.judged) == ("", None, 0)
    assert verify(journal.path).faults == []


@settings(max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(words=st.one_of(st.text(max_size=60), st.text(alphabet='"*^:(){}-+ANDORNEAR \x00_²½', max_size=40)))
def test_no_query_whatever_raises(journal, words):
    assert len(runs_with_words(journal._connection, words)) <= 2
