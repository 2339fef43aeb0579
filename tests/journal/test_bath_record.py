"""A bath is what its events say: the area it has done, its clearing time, its day, its end."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import bath as be
from firmware_py.facts.events import run as ev
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.projections import faults
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal
from tests.journal.making import entry, numbered, subject
from tests.journal.making_baths import MADE, bath_entries

A = subject(1)


def used(run: str, area_cm2: float, step: int = 0) -> be.BathUsed:
    return be.BathUsed(run_id=run, step=step, area_cm2=area_cm2, plate="p")


def test_a_bath_adds_up_what_it_did_and_knows_its_end():
    bath = BathRecord.replay(bath_entries(A))
    assert bath.done_cm2 == pytest.approx(398.0)
    assert bath.runs == 2
    assert bath.has_served("run 2", 0)
    assert not bath.has_served("run 2", 1)
    assert (bath.clearing_s, bath.fresh_clearing_s) == (120.0, 75.0)
    assert bath.made_utc == "2026-03-14T18:30:00+00:00"
    assert bath.works_at_degC == 20.0
    assert (bath.state, bath.discarded, bath.notes) == ("ended", "brown", ["a little brown"])


@given(st.lists(st.floats(0.0, 60.0), max_size=10))
def test_a_developer_lengthens_by_the_rule_of_its_formula(areas):
    """10 % of the fresh time for every 400 cm² a litre, in proportion: the rule, reckoned here again."""
    happened: list[ev.AnyEvent] = [MADE, *(used(f"{n}", area) for n, area in enumerate(areas))]
    bath = BathRecord.replay(numbered(A, [(float(n), event) for n, event in enumerate(happened)]))
    assert bath.times_longer() == pytest.approx(1 + 0.10 * sum(areas) / (400 * 0.5))


def test_without_a_rule_nothing_is_longer():
    plain = msgspec.structs.replace(MADE, longer_percent=None, longer_every_cm2_per_l=None)
    assert BathRecord.replay(numbered(A, [(0.0, plain), (1.0, used("r", 900.0))])).times_longer() == 1.0


def test_a_bath_that_would_need_more_than_twice_its_time_says_so():
    bath = BathRecord.replay(numbered(A, [(0.0, MADE), (1.0, used("r", 2001.0))]))
    with pytest.raises(Refused, match="mix a new bath"):
        bath.times_longer()


def test_nothing_but_a_remark_comes_after_the_end():
    bath = BathRecord.replay(bath_entries(A))
    number = bath.number + 1
    for late in (used("r", 1.0), be.BathDiscarded(why="again"), be.BathDated(made_utc=MADE.made_utc)):
        with pytest.raises(Refused, match="while discarded"):
            bath.apply(entry(A, number, late))
    bath.apply(entry(A, number, ev.NoteWritten(text="poured into the waste can")))
    assert bath.notes[-1] == "poured into the waste can"


@pytest.mark.parametrize("event", [ev.BenchStopped(why="x"), MADE, used("r", -1.0), used("r", float("nan"))])
def test_what_can_not_happen_to_a_bath_is_refused_and_changes_nothing(event):
    bath = BathRecord.replay(bath_entries(A, discarded=False))
    before = (bath.number, bath.done_cm2)
    with pytest.raises(Refused):
        bath.apply(entry(A, bath.number + 1, event))
    with pytest.raises(Refused, match="expected entry"):
        bath.apply(entry(A, bath.number + 2, used("r", 1.0)))
    assert (bath.number, bath.done_cm2) == before


def test_the_row_of_a_bath_follows_after_every_event_and_is_found_again(tmp_path):
    path = tmp_path / "journal.db"
    kept = bath_entries(subject(2), discarded=False)
    with Journal.open(path) as journal:
        for one in bath_entries(A):
            journal.append([one])
            assert list(faults(journal._connection)) == []
        journal.append(kept)
    with Journal.open(path) as journal:
        (row,) = journal.open_baths()
        assert (row.bath_id, row.name, row.runs, row.rehearsal) == (subject(2), MADE.name, 2, True)
        assert row.done_cm2 == pytest.approx(398.0)
        journal.append([entry(subject(2), len(kept) + 1, be.BathDiscarded(why="old"))])
        assert journal.open_baths() == []
        journal.rebuild()
        assert list(faults(journal._connection)) == []
        with pytest.raises(JournalRefused, match="while discarded"):
            journal.append([entry(subject(2), len(kept) + 2, used("r", 1.0))])


def test_a_damaged_row_of_a_bath_is_seen(tmp_path):
    with Journal.open(tmp_path / "journal.db") as journal:
        journal.append(bath_entries(A))
        journal._connection.execute("UPDATE bath SET done_cm2 = 0")
        (fault,) = faults(journal._connection)
        assert fault == ("bath", A, "done_cm2 is 0.0, replayed 398.0")
        journal._connection.execute("DELETE FROM bath")
        assert list(faults(journal._connection)) == [("bath", A, "its row is missing")]
