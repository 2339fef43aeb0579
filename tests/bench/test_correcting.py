"""A run opened with the wrong plate is corrected by an event: names, the book of plates and rows follow."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest

from firmware_py.bench.plates.plate_book import PlateBook
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.show import show
from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.refusal import NotNow, Refused, WrongInput
from firmware_py.facts.acts import plate as pa
from firmware_py.facts.acts import run as acts
from firmware_py.facts.acts.book import JudgePlate
from firmware_py.facts.events import life as le
from firmware_py.facts.events import run as ev
from firmware_py.facts.verdict import Verdict
from firmware_py.journal.life_record import PlateRecord
from firmware_py.journal.life_rows import plate_called
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from firmware_py.service.plate_resume import take_up_plates
from tests.bench.plates_at_hand import PlatesAtHand


def with_two_exposed(*, routine: str = "to the rack") -> PlatesAtHand:
    """Return a bench where spring/1 (3A) was named for a run, and spring/2 (3B) lies in the tray."""
    at = PlatesAtHand()
    for side in ("3A", "3B"):
        at.load(side)
        at.expose(side)
    at.do(acts.OpenRun(plate="spring/1", routine=routine))
    return at


def lane(at: PlatesAtHand, number: int = 1) -> Lane:
    return at.bench.runs.lanes[number]


def side_of(at: PlatesAtHand, plate: str) -> str:
    place = at.plate(plate).place
    return place.name if place is not None else ""


def to_the_end(at: PlatesAtHand) -> None:
    """Bring the run in tray 1 to the end of its routine."""
    for seconds in (200.0, 31.0, 301.0, 601.0, 61.0):
        at.pass_s(seconds)
        if lane(at).record.state == "due":
            at.proceed(lane=1)
    assert lane(at).record.state == "ended"


def developing() -> PlatesAtHand:
    at = with_two_exposed()
    at.do(acts.Proceed())
    at.pass_s(30.0)
    return at


def test_the_run_has_its_right_plate_and_the_wrong_one_is_back_in_its_side():
    at = developing()
    before = lane(at).record.here
    at.do(acts.CorrectPlate(plate="3B"))
    record = lane(at).record
    assert (record.plate, record.plates, record.named.box) == ("spring/2", ("spring/2",), "spring")
    assert record.opened.plate == "spring/1"
    assert record.here is before
    wrong, right = at.plate("spring/1"), at.plate("spring/2")
    assert (wrong.stage, side_of(at, "spring/1"), wrong.run_id) == ("exposed", "3A", None)
    assert (right.stage, right.place, right.run_id) == ("developing", None, record.run_id)
    sides = {s.name: s.plate for holder in show(at.bench).plates.holders for s in holder.sides}
    assert (sides["3A"], sides["3B"]) == ("spring/1", "")


def test_the_right_plate_moves_on_with_the_run_and_the_wrong_one_stays():
    at = developing()
    at.do(acts.CorrectPlate(plate="spring/2"))
    to_the_end(at)
    assert (at.stage("spring/1"), at.stage("spring/2")) == ("exposed", "dry")


def test_a_run_that_is_over_is_corrected_too_and_its_verdict_follows():
    at = developing()
    to_the_end(at)
    record = lane(at).record
    at.do(JudgePlate(run=record.run_id, verdict=Verdict(density="thin", contrast="flat")))
    at.do(acts.CorrectPlate(plate="spring/2"))
    assert list(record.verdicts) == ["spring/2"]
    assert record.verdicts["spring/2"].plate == "spring/2"
    assert (at.stage("spring/1"), at.stage("spring/2")) == ("exposed", "dry")


def test_what_the_plate_is_follows_the_right_one():
    at = PlatesAtHand()
    at.do(pa.EnterBox(name="pan", plates=1, emulsion="bought pan", sensitivity="panchromatic"))
    at.load("3A", box="spring")
    at.do(acts.OpenRun(plate="3A", routine="to the rack"))
    at.do(acts.CorrectPlate(plate="pan/1"))
    record = lane(at).record
    assert record.plate_kind is not None
    assert (record.named.box, record.plate_kind.emulsion) == ("pan", "bought pan")
    assert record.plate_kind.sensitivity == "panchromatic"
    assert lane(at).light == "dark"


def test_a_name_of_the_persons_own_puts_the_plate_of_the_book_back_into_its_box():
    at = PlatesAtHand()
    at.do(acts.OpenRun(plate="spring/1", routine="to the rack"))
    at.do(acts.CorrectPlate(plate="glass of the chapel"))
    assert (lane(at).record.plate, lane(at).record.named.box) == ("glass of the chapel", "")
    assert (at.stage("spring/1"), at.plate("spring/1").run_id) == ("boxed", None)


def test_one_of_two_plates_is_corrected_and_the_other_stays():
    at = PlatesAtHand()
    at.do(acts.OpenRun(plate="spring/1", others=("spring/2",), routine="to the rack"))
    at.do(acts.CorrectPlate(plate="spring/1", others=("spring/3",)))
    record = lane(at).record
    assert record.plates == ("spring/1", "spring/3")
    runs = {name: at.plate(name).run_id for name in ("spring/1", "spring/2", "spring/3")}
    assert runs == {"spring/1": record.run_id, "spring/2": None, "spring/3": record.run_id}


def test_a_correction_can_itself_be_corrected():
    at = developing()
    at.do(acts.CorrectPlate(plate="spring/2"))
    at.do(acts.CorrectPlate(plate="spring/1"))
    assert lane(at).record.plate == "spring/1"
    assert (at.stage("spring/1"), at.stage("spring/2")) == ("developing", "exposed")
    assert side_of(at, "spring/2") == "3B"


@pytest.mark.parametrize(
    ("act", "kind", "words"),
    [
        (acts.CorrectPlate(plate="spring/9"), WrongInput, 'the book has no plate "spring/9"'),
        (acts.CorrectPlate(plate="autumn/1"), WrongInput, 'the book has no plate "autumn/1"'),
        (acts.CorrectPlate(plate="4A"), Refused, "side 4A holds no plate"),
        (acts.CorrectPlate(plate="spring/1"), WrongInput, "has the plate spring/1 already"),
        (acts.CorrectPlate(plate="spring/2", others=("spring/3",)), WrongInput, "2 plates named; allowed: 1"),
        (acts.CorrectPlate(plate="spring/3"), Refused, "spring/3 is in tray 2 already"),
        (acts.CorrectPlate(plate="spring/2", lane=5), Refused, "tray 5"),
    ],
)
def test_what_cannot_be_meant_is_refused_and_changes_nothing(act, kind, words):
    at = with_two_exposed()
    at.do(acts.OpenRun(plate="spring/3", routine="to the rack"))
    at.do(acts.Focus(lane=1))
    written = len(at.entries)
    with pytest.raises(kind, match=words):
        at.do(act)
    assert len(at.entries) == written


def test_a_side_that_was_filled_again_is_named_with_what_to_do():
    at = with_two_exposed()
    at.load("3A")
    with pytest.raises(NotNow, match="goes back to side 3A, which holds spring/3; next: unload side 3A"):
        at.do(acts.CorrectPlate(plate="spring/2"))
    at.do(pa.UnloadPlate(side="3A"))
    at.do(acts.CorrectPlate(plate="spring/2"))
    assert side_of(at, "spring/1") == "3A"


def test_a_plate_that_broke_since_does_not_go_back():
    at = with_two_exposed()
    at.do(pa.BreakPlate(plate="spring/1"))
    with pytest.raises(Refused, match="spring/1 is broken since"):
        at.do(acts.CorrectPlate(plate="spring/2"))


def test_the_journal_alone_gives_the_same_again_and_its_rows_and_words_follow(tmp_path: Path):
    at = developing()
    at.do(acts.CorrectPlate(plate="spring/2"))
    run = lane(at).record
    with Journal.open(tmp_path / "journal.db", ballast_bytes=0) as journal:
        journal.append(at.entries)
        row = journal.look(
            lambda one: one.execute("SELECT plate FROM run WHERE run_id = ?", (run.run_id,)).fetchone()
        )
        assert row == ("spring/2",)
        said = journal.look(lambda one: one.execute("SELECT plate FROM run_words").fetchall())
        assert said == [("spring/2",)]
        plates = [journal.look(partial(plate_called, words=name)) for name in ("spring/1", "spring/2")]
        assert [(p.stage, p.side, p.left_utc is None, p.run_id) for p in plates] == [
            ("exposed", "A", True, None),
            ("developing", "B", False, run.run_id),
        ]
        assert RunRecord.replay(journal.read(run.run_id)).plates == ("spring/2",)
        again = PlateBook(Scribe(at.clock), at.bench.notices, rehearsal=True)
        take_up_plates(again, journal, lambda *_: pytest.fail("nothing is wrong with it"))
        assert again.shelf.plates == at.book.shelf.plates
    assert verify(tmp_path / "journal.db").faults == []


def test_a_plate_that_was_not_laid_out_for_that_run_last_is_refused_by_the_fold():
    at = developing()
    plate = at.plate("spring/1")
    entries = [entry for entry in at.entries if entry.subject == plate.subject]
    again = PlateRecord.replay(entries)
    wrong = ev.Entry(
        subject=plate.subject,
        number=again.number + 1,
        boot_id=entries[-1].boot_id,
        boot_s=entries[-1].boot_s,
        utc=entries[-1].utc,
        event=le.PlateMistaken(run_id="another"),
    )
    with pytest.raises(Refused, match="not laid out for that run last"):
        again.apply(wrong)
    assert again == plate
