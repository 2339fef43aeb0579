"""What the journal knows of earlier plates of a box: where they were pulled."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import run as ev
from firmware_py.journal.pulled import PulledPlates
from firmware_py.journal.store import Journal
from tests.journal.making import ROUTINE, run_entries, subject

OTHER = replace(ROUTINE, steps=(replace(ROUTINE.steps[0], bath="metol"), *ROUTINE.steps[1:]))


def plate(
    n: int, box: str, readings: int = 12, *, ended: bool = True, rehearsal: bool = True, routine=ROUTINE
) -> list[ev.Entry]:
    first, *rest = run_entries(subject(n), readings=readings, ended=ended)
    opened = ev.RunOpened(plate=f"plate {n}", tray="tray 1", routine=routine, rehearsal=rehearsal, box=box)
    return [ev.Entry(**{**{f: getattr(first, f) for f in first.__struct_fields__}, "event": opened}), *rest]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "journal.db"
    with Journal.open(path) as journal:
        journal.append(plate(1, "spring 1", 10))
        journal.append(plate(2, "spring 1", 14))
        journal.append(plate(3, "autumn 4"))
        journal.append(plate(4, "spring 1", routine=OTHER))
        journal.append(plate(5, "spring 1", ended=False))
        journal.append(plate(6, "spring 1", rehearsal=False))
    return path


def test_only_pulled_plates_of_the_same_box_and_developer_count(path: Path):
    """Not another box, not another developer, not one still lying, not a real plate in a rehearsal."""
    found = PulledPlates(path).pulled_at_s("spring 1", "pyro-soda", rehearsal=True)
    assert found == pytest.approx([426.0, 306.0], abs=8.0)


def test_a_real_bench_learns_nothing_from_rehearsals(path: Path):
    assert len(PulledPlates(path).pulled_at_s("spring 1", "pyro-soda", rehearsal=False)) == 1


def test_an_unknown_box_has_no_precedent(path: Path):
    assert PulledPlates(path).pulled_at_s("winter 9", "pyro-soda", rehearsal=True) == []


def test_a_journal_that_is_not_there_is_refused_not_invented(tmp_path: Path):
    with pytest.raises(Refused):
        PulledPlates(tmp_path / "none.db").pulled_at_s("spring 1", "pyro-soda", rehearsal=True)
