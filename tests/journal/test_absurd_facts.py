"""Values that no bench can have are refused at every door; what is in the book spoils no other view."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Development
from firmware_py.facts.events.bath import BathDated
from firmware_py.facts.events.run import TemperatureRead
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal
from firmware_py.service.resuming import resume_bench
from tests.bench.bench_at_hand import BenchAtHand
from tests.journal import absurd
from tests.journal.absurd import BATH, force, good_book, imported, look_at_everything, poisoned
from tests.journal.making import entry, subject
from tests.journal.making_baths import bath_entries, probe_entries

POISON = [
    ("made_utc", "soon"),
    ("made_utc", "0001-01-01T00:00:00+14:00"),
    ("volume_ml", 0),
    ("keeps_s", 0),
    ("keeps_s", 1e308),
    ("works_at_degC", 1e308),
    ("cm2_per_l", -1),
]
NOTED = bath_entries(BATH, discarded=False)


@pytest.mark.parametrize(("field", "value"), POISON)
def test_an_import_of_what_no_bath_can_be_is_refused(tmp_path: Path, field: str, value: object):
    assert not imported(poisoned(NOTED, 1, (field,), value), [probe_entries(subject(2))], tmp_path)


def test_an_act_and_the_journal_refuse_it_too(tmp_path: Path):
    with pytest.raises(Refused, match="no moment"):
        BathDated(made_utc="soon")
    hot = TemperatureRead(bath_degC=1e308, tolerance_K=0.5, source="hand")
    with (
        Journal.open(tmp_path / "journal.db") as journal,
        pytest.raises(JournalRefused, match="can not be kept"),
    ):
        journal.append([entry(subject(1), 1, hot)])
    with pytest.raises(Refused, match="ln_per_K"):
        Development(360.0, 20.0, 15.0, 25.0, ln_per_K=1e308)


def test_some_of_all_absurd_imports_are_refused_or_spoil_no_view():
    _, failed = absurd.play(imports=8, seed=3)
    assert failed == []


@pytest.mark.parametrize(("field", "value"), POISON[:3])
def test_a_bath_that_an_older_program_spoilt_is_said_and_the_others_are_shown(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], field: str, value: object
):
    """The bench starts and says so; the lists are there; it can be left out, and is then no longer said."""
    path = tmp_path / "journal.db"
    with Journal.open(path, ballast_bytes=0) as journal:
        for entries in good_book():
            journal.append(entries)
    force(path, poisoned(NOTED, 1, (field,), value))
    assert _troubles(path) == ["damaged bath"]
    assert absurd.quietly("logbook", "rebuild", "--journal", str(path)) == 1
    asked = look_at_everything(path)  # ends with `rebuild --leave-out`
    assert {name for name, code in asked.items() if code} == {"verify", "label", "advice"}
    assert _troubles(path) == []


def _troubles(path: Path) -> list[str]:
    with Journal.open(path, ballast_bytes=0) as journal:
        at_hand = BenchAtHand(probe=False)
        resume_bench(at_hand.bench, journal)
        return [notice.kind for notice in at_hand.bench.notices.all() if notice.kind.startswith("damaged")]


def test_the_bounds_of_acts_lie_within_those_of_the_facts_that_they_become():
    """Else an act would be taken that the journal then refuses for ever."""
    from firmware_py.facts import quantities as q
    from firmware_py.facts.acts import bath as acts
    from firmware_py.facts.acts import plate
    from firmware_py.facts.acts import print as print_acts

    pairs = [
        (acts.Millilitres, q.Volume),
        (acts.KeepingSeconds, q.SomeSeconds),
        (acts.AreaPerLitre, q.SomeArea),
        (acts.Seconds, q.SomeSeconds),
        (acts.Degrees, q.Degrees),
        (acts.Reference, q.Degrees),
        (acts.Kelvins, q.Tolerance),
        (plate.Index, q.Index),
        (plate.FNumber, q.FNumber),
        (plate.Seconds, q.Seconds),
        (plate.Factor, q.Times),
        (plate.Latitude, q.Latitude),
        (plate.Longitude, q.Longitude),
        (print_acts.Seconds, q.SomeSeconds),
        (print_acts.Millimetres, q.Millimetres),
        (print_acts.Stops, q.Stops),
        (print_acts.LogRange, q.Density),
        (print_acts.Speed, q.Index),
    ]
    for act, fact in pairs:
        for end in _ends(act):
            msgspec.convert(end, fact)


def _ends(bounded: object) -> list[float]:
    (meta,) = bounded.__metadata__  # type: ignore[attr-defined]
    low = meta.ge if meta.ge is not None else meta.gt + 1e-9
    high = meta.le if meta.le is not None else meta.lt - 1e-9
    return [low, high]
