"""The demo book: an invented season through the real fold, whole, the same again, and its advice by hand.

The arithmetic of the advice is written out here from the events of the book (what was said of each plate, how
long it lay in the developer, what it got); nothing of `craft.advice` or `craft.next_plate` is called.
"""

from __future__ import annotations

import math
from collections import defaultdict
from pathlib import Path

import pytest
from scipy.optimize import curve_fit

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
        assert merge_journal(journal, halves[1]) == (0, 0)
        assert merge_journal(journal, book) == (0, 0)
    assert exported(halves[0], tmp_path / "m.jsonl") == exported(book, tmp_path / "w.jsonl")
    assert verify(halves[0]).faults == []


# --- the advice by hand ---

# What each judgement asks for: (times the time, stops more). Hard: 3/4 of the time; flat: 1.35 times; a stop
# for thin or dense; a third of one with hard or flat alone. "Rather" is half way on each straight line.
PLAIN = {
    ("right", "right"): (0, 0.0),
    ("right", "thin"): (0, 1.0),
    ("right", "dense"): (0, -1.0),
    ("hard", "right"): (-1, 1 / 3),
    ("hard", "thin"): (-1, 1.0),
    ("hard", "dense"): (-1, 0.0),
    ("flat", "right"): (1, -1 / 3),
    ("flat", "thin"): (1, 0.0),
    ("flat", "dense"): (1, -1.0),
}


def asked(contrast: str, density: str) -> tuple[float, float]:
    """Return way (-1 shorter, +1 longer) and stops: the mean of the plain judgements on either side."""
    contrasts = [contrast.rsplit(maxsplit=1)[-1], "right" if "rather" in contrast else contrast]
    densities = [density.rsplit(maxsplit=1)[-1], "right" if "rather" in density else density]
    found = [PLAIN[c, d] for c in contrasts for d in densities]
    return sum(way for way, _ in found) / 4, sum(stops for _, stops in found) / 4


def law(time_min, gamma_inf, k):
    return gamma_inf * (1 - math.e ** (-k * time_min))


class Plate:
    """What the book tells of one judged plate."""

    def __init__(self, run: RunRecord, exposed: Exposures) -> None:
        (self.said,) = run.verdicts.values()
        self.low, self.high, self.fog = (
            getattr(self.said, name) for name in ("shadow_density", "highlight_density", "fog_density")
        )
        step = run.development
        assert step is not None
        self.fresh_s = step.equivalent_s / run.baths[step.step].times_longer
        self.more = exposed.exposed_stops(run.run_id, run.plate)


def growth_of(plates: list[Plate]) -> tuple[float, float] | None:
    """Return gamma_inf and k [1/min] by scipy where the gammas were read at times far enough apart."""
    read = [(p.fresh_s / 60, p.said.gamma) for p in plates if p.said.gamma is not None]
    times, gammas = zip(*read, strict=True) if read else ((), ())
    if len(read) < 2 or max(times) < 1.25 * min(times):
        return None
    found, doubts = curve_fit(law, times, gammas, p0=(1.5, 0.2), maxfev=20_000)
    return tuple(found) if doubts[0][0] ** 0.5 <= found[0] / 4 else None


def wanted(plate: Plate, growth: tuple[float, float] | None) -> tuple[float, float]:
    """Return the time [s] and the stops more that one plate would have wanted."""
    way, stops = asked(plate.said.contrast, plate.said.density)
    if growth is None:
        return plate.fresh_s * (0.75**-way if way < 0 else 1.35**way), stops
    gamma_inf, k = growth
    now = law(plate.fresh_s / 60, gamma_inf, k)
    if plate.low is None:
        then = now * (0.8**-way if way < 0 else 1.25**way)
        return -60 * math.log(1 - then / gamma_inf) / k, stops
    ratio = 1.05 / (plate.high - plate.low)
    then = now * ratio
    shadow = (plate.low - plate.fog) * ratio
    return -60 * math.log(1 - then / gamma_inf) / k, (0.15 - shadow) / then / math.log10(2)


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


@pytest.mark.parametrize("box", [box.name for box in BOXES])
def test_the_advice_for_the_next_plate_of_each_box_by_hand(book, plates, box):
    tried = plates[box]
    growth = growth_of(tried)
    wants = [wanted(plate, growth) for plate in tried]
    middle_s = math.exp(sum(math.log(time_s) for time_s, _ in wants) / len(wants))
    corrections = [plate.more + stops for plate, (_, stops) in zip(tried, wants, strict=True)]
    correction = sum(corrections) / len(corrections)
    scatter = math.sqrt(sum((one - correction) ** 2 for one in corrections) / (len(corrections) - 1))

    with JournalReader.open(book) as reader:
        advice = advice_of_box(reader.connection, box).advice
    assert len(tried) in {8, 11, 12}
    assert (advice.growth is None) == (growth is None)
    close = 1e-9 if growth is None else 1e-3  # two fits of one law agree so far
    assert advice.equivalent_s.value == pytest.approx(middle_s, rel=close)
    assert advice.correction_stops is not None
    assert advice.correction_stops.value == pytest.approx(correction, rel=close, abs=close)
    assert advice.correction_stops.scatter == pytest.approx(scatter, rel=10 * close)
    doubt = max(scatter, 0.5) / math.sqrt(len(tried))
    assert advice.correction_stops.doubt == pytest.approx(doubt, rel=10 * close)
    assert advice.exposure_stops == pytest.approx(correction - tried[-1].more, rel=close, abs=close)


def test_the_season_taught_what_the_plates_are_really_like(plates):
    """The box with a measured growth shows that of its invented plates."""
    pan = next(box for box in BOXES if box.measures)
    growth = growth_of(plates[pan.name])
    assert growth is not None
    assert growth == pytest.approx((pan.gamma_inf, pan.k_per_min), rel=0.1)
