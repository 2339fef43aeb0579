"""The demo book: an invented season through the real fold, whole, the same again, and its advice by hand.

The advice is found once more from the events of the book (what was said of each plate, how long it was in the
developer, what exposure it had) by a sampler on numpy and scipy that shares no code with the craft.
"""

from __future__ import annotations

import math
from collections import defaultdict
from pathlib import Path

import numpy as np
import pytest

from firmware_py.craft.rates import rate_of
from firmware_py.craft.refusal import Refused
from firmware_py.journal.box_advice import advice_of_box
from firmware_py.journal.copies import write_lines
from firmware_py.journal.exposed import Exposures
from firmware_py.journal.merge import import_lines, merge_journal
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from firmware_py.rehearsal.demo.demo_book import demo_book
from firmware_py.rehearsal.demo.season import BOXES
from firmware_py.service.demo import make_demo_book
from tests.reference.belief_by_numpy import Box, Seen, chance_of_fit, constants, walked


@pytest.fixture(scope="module")
def book(tmp_path_factory) -> Path:
    path: Path = tmp_path_factory.mktemp("demo") / "journal.db"
    made = make_demo_book(path)
    assert (made.boxes, made.runs) == (5, 56)
    assert made.prints >= 5
    return path


def exported(path: Path, target: Path) -> bytes:
    with JournalReader.open(path) as reader, target.open("wb") as file:
        write_lines(reader.connection, file)
    return target.read_bytes()


def test_the_book_is_whole_and_every_part_of_it_says_that_it_is_invented(book):
    assert verify(book).faults == []
    with JournalReader.open(book) as reader:
        for table in ("run", "print", "bath", "box", "holder", "plate"):
            marked = f"SELECT count(*), sum(rehearsal) FROM {table}"
            rows, rehearsals = reader.connection.execute(marked).fetchone()
            assert rows == rehearsals > 0, table
        stages = dict(reader.connection.execute("SELECT stage, count(*) FROM plate GROUP BY stage"))
    assert stages == {"boxed": 20, "exposed": 4, "filed": 55, "broken": 1}


def test_the_same_seed_makes_the_same_book_and_another_one_another(book):
    with JournalReader.open(book) as reader:
        first = {subject: reader.read(subject) for subject in reader.subjects()}
    again = defaultdict(list)
    for entries in demo_book():
        for entry in entries:
            again[entry.subject].append(entry)
    assert first == again
    assert next(demo_book(1912)) != next(demo_book())


def test_a_book_that_stands_is_left_alone(book):
    with pytest.raises(Refused, match="already"):
        make_demo_book(book)


def test_export_import_export_is_the_same_to_the_byte(book, tmp_path):
    first = exported(book, tmp_path / "a.jsonl")
    with Journal.open(tmp_path / "b.db") as journal:
        import_lines(journal, tmp_path / "a.jsonl")
    assert exported(tmp_path / "b.db", tmp_path / "b.jsonl") == first
    assert verify(tmp_path / "b.db").faults == []


def test_two_halves_come_together_to_the_whole_and_again_changes_nothing(book, tmp_path):
    halves = (tmp_path / "one.db", tmp_path / "other.db")
    with JournalReader.open(book) as reader:
        subjects = reader.subjects()
        for place, half in enumerate(halves):
            with Journal.open(half) as journal:
                journal.append([entry for one in subjects[place::2] for entry in reader.read(one)])
    with Journal.open(halves[0]) as journal:
        assert merge_journal(journal, halves[1]).subjects == len(subjects[1::2])
        assert merge_journal(journal, halves[1])[:2] == (0, 0)
        assert merge_journal(journal, book)[:2] == (0, 0)
    assert exported(halves[0], tmp_path / "m.jsonl") == exported(book, tmp_path / "w.jsonl")
    assert verify(halves[0]).faults == []


# --- the advice by other means ---


class Plate:
    """What the book tells of one judged plate, gathered here from its events."""

    def __init__(self, run: RunRecord, exposed: Exposures) -> None:
        (self.said,) = run.verdicts.values()
        step = run.development
        assert step is not None
        plan = run.plan(step).development
        assert plan is not None
        rate = rate_of(plan)
        self.per_K = rate.ln_per_K(plan.reference_degC)
        longer = run.baths[step.step].times_longer
        self.fresh_s = step.equivalent_s / longer
        self.usual_s = plan.target_s
        seen = [mark for mark in run.marks if mark.what == "image appears" and mark.step == step.step]
        low, high, fog = self.said.shadow_density, self.said.highlight_density, self.said.fog_density
        measured = low is not None and high is not None and fog is not None
        # The bath drifts; equivalent time at the reference is what it did, and all that is taken here.
        self.seen = Seen(
            stops=exposed.exposed_stops(run.run_id, run.plate) or 0.0,
            light=0.7,
            minutes=self.fresh_s / 60,
            appeared=(seen[0].equivalent_s or 0) / longer / 60 if seen and seen[0].equivalent_s else None,
            contrast=self.said.contrast,
            weight=self.said.density,
            fog=self.said.fog,
            shadow=low - fog if measured and low is not None and fog is not None else None,
            span=high - low if measured and high is not None and low is not None else None,
            fog_read=fog,
            gamma=self.said.gamma,
        )


@pytest.fixture(scope="module")
def plates(book) -> dict[str, list[Plate]]:
    found = defaultdict(list)
    with JournalReader.open(book) as reader:
        exposed = Exposures(reader.connection)
        for run_id in reader.subjects("RunOpened"):
            run = RunRecord.replay(reader.read(run_id))
            if run.verdicts:
                found[run.opened.box].append(Plate(run, exposed))
    return found


@pytest.mark.timeout(240)
@pytest.mark.long_walk
@pytest.mark.parametrize("box", [box.name for box in BOXES])
def test_the_advice_for_the_next_plate_of_each_box_by_a_walk_over_the_law(book, plates, box):
    """`tests.reference.belief_by_numpy` shares no code with the craft; see there."""
    tried = plates[box]
    assert len(tried) in {8, 11, 12}
    with JournalReader.open(book) as reader:
        told = advice_of_box(reader.connection, box)
    prior = Box(math.log(0.95 * 60 / tried[-1].usual_s), 0.62, tried[-1].per_K)
    z = walked([plate.seen for plate in tried], prior, walkers=48, steps=300)
    c = constants(z, prior)
    for known, found in ((told.belief.speed_stops, c["speed"]), (told.belief.gamma_inf, c["gamma_inf"])):
        assert known.value == pytest.approx(float(np.mean(found)), abs=0.8 * float(np.std(found)))
    chance = chance_of_fit(z, prior, told.advice.exposure_stops, told.advice.developed_s / 60)
    assert told.advice.chance == pytest.approx(chance, abs=0.15)


def test_the_season_taught_what_the_plates_are_really_like(book):
    """The belief of each box holds what its invented plates are, within two and a half of its doubts."""
    with JournalReader.open(book) as reader:
        for box in BOXES:
            belief = advice_of_box(reader.connection, box.name).belief
            assert abs(belief.gamma_inf.value - box.gamma_inf) < 2.5 * belief.gamma_inf.doubt
            assert abs(belief.k_per_min.value - box.k_per_min) < 2.5 * belief.k_per_min.doubt
