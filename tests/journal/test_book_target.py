"""How long the book would develop the plate in the developer: by its box, and by its first appearance."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.journal.book_target import book_target
from firmware_py.journal.store import Journal
from tests.journal.making import run_entries, subject
from tests.journal.making_verdicts import DRY, judged_run_entries


@pytest.fixture(scope="module")
def journal(tmp_path_factory):
    with Journal.open(tmp_path_factory.mktemp("book") / "journal.db") as journal:
        journal.append(judged_run_entries(subject(1)))
        journal.append(judged_run_entries(subject(2), DRY, box="autumn"))
        journal.append(run_entries(subject(3)))
        yield journal


def test_the_book_has_a_time_with_a_range_and_a_chance(journal):
    target = book_target(journal._connection, subject(1))
    assert target is not None
    assert target.low_s <= target.equivalent_s <= target.high_s
    assert 0 < target.chance < 1
    assert target.plates == 1


def test_the_exposure_of_the_plate_counts(journal):
    """A plate that had far less exposure than the box needs fits less surely."""
    usual = book_target(journal._connection, subject(1), lambda *_: 0.0)
    starved = book_target(journal._connection, subject(1), lambda *_: -5.0)
    assert usual is not None
    assert starved is not None
    assert starved.chance < usual.chance


def test_a_box_of_which_no_plate_was_judged_has_none_and_an_unknown_run_is_refused(journal):
    with Journal.open(journal.path.parent / "other.db") as other:
        other.append(run_entries(subject(3)))
        assert book_target(other._connection, subject(3)) is None
        with pytest.raises(Refused):
            book_target(other._connection, subject(8))
