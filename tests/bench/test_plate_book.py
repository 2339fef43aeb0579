"""Plates are loaded, exposed, developed and filed; what can not be is refused with the reason."""

from __future__ import annotations

from pathlib import Path

import pytest

from firmware_py.bench.notices import Notices
from firmware_py.bench.plates.plate_book import PlateBook
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.show import show
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import plate as pa
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import life as le
from firmware_py.journal.store import Journal
from firmware_py.service.plate_resume import take_up_plates
from tests.bench.plates_at_hand import PlatesAtHand

NOON = "2026-03-14T20:30+01:00"  # when the bench at hand has its evening: 19:30 UTC


def test_plates_come_out_of_the_box_in_order_and_are_seen_in_their_sides():
    at = PlatesAtHand()
    at.load("3a")
    at.load("3B", box="spring")
    at.load("4A", plate="spring/3")
    at.expose("3B")
    book = show(at.bench).plates
    (box,) = book.boxes
    assert (box.name, box.left, box.elsewhere, box.speed_index) == ("spring", 0, 3, 2.0)
    assert (box.size, box.emulsion, box.sensitivity) == ("English half plate", "home ripened", "blue")
    sides = {side.name: (side.plate, side.stage) for holder in book.holders for side in holder.sides}
    assert sides == {
        "3A": ("spring/1", "loaded"),
        "3B": ("spring/2", "exposed"),
        "4A": ("spring/3", "loaded"),
        "4B": ("", None),
    }
    assert {plate.name: plate.side for plate in book.plates} == {
        "spring/1": "3A",
        "spring/2": "3B",
        "spring/3": "4A",
    }


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (pa.LoadPlate(side="3A"), r"side 3A holds spring/1 \(loaded\) since 2026-03-14 19:30 UTC"),
        (pa.LoadPlate(side="9A"), 'no side is called "9A"; allowed: 3A, 3B, 4A, 4B'),
        (pa.LoadPlate(side="3B", plate="spring/1"), "spring/1 is loaded since"),
        (pa.LoadPlate(side="3B", box="autumn"), 'no box is called "autumn"; allowed: spring'),
        (pa.UnloadPlate(side="3B"), "side 3B holds no plate; allowed: 3A"),
        (pa.UnloadPlate(side="4A"), "side 4A holds no plate since 2026-03-14 19:30 UTC, when spring/2 left"),
        (pa.MarkExposed(side="3B"), "side 3B holds no plate"),
        (pa.TakeBackExposure(plate="3A"), "spring/1 is loaded since"),
        (pa.NoteExposure(plate="spring/3"), "spring/3 is boxed since .* in no holder"),
        (pa.NoteExposure(plate="3A", sky="pink"), '"pink" is not known; allowed: clear'),
        (pa.NoteExposure(plate="3A", taken="noon"), "is no day"),
        (pa.FilePlate(plate="spring/1"), "spring/1 is loaded since .*; allowed: a dry plate"),
        (pa.AdvancePlate(plate="spring/3", to="dry"), "spring/3 is boxed since"),
        (pa.BreakPlate(plate="winter/1"), 'no plate or side is called "winter/1"'),
        (pa.EnterBox(name="SPRING", plates=1), "a box is called 'SPRING' already"),
        (pa.EnterBox(name="new", plates=1, size="half plate"), "a half plate is two sizes"),
        (pa.EnterBox(name="new", plates=1, opened="2027-01-01"), "still to come"),
        (pa.FinishBox(box="spring"), "2 of its plates are still in it"),
        (pa.EnterHolder(name="3"), "there is a side 3A already"),
        (pa.EnterHolder(name="3A", sides=("1",)), None),
        (pa.SetHolderAside(holder="3"), "side 3A holds spring/1"),
    ],
)
def test_what_can_not_be_is_refused_with_the_reason_and_changes_nothing(act, words):
    at = PlatesAtHand()
    at.load("3A")
    at.load("4A")
    at.do(pa.UnloadPlate(side="4A"))
    written = len(at.entries)
    if words is None:
        at.do(act)
        return
    with pytest.raises(Refused, match=words):
        at.do(act)
    assert len(at.entries) == written


def test_a_run_by_the_side_of_a_holder_moves_its_plates_on_to_dry_by_itself():
    at = PlatesAtHand()
    for side in ("3A", "3B"):
        at.load(side)
        at.expose(side)
    at.do(acts.OpenRun(plate="3A", others=("spring/2",), routine="to the rack"))
    record = at.lane.record
    assert (record.plates, record.opened.box) == (("spring/1", "spring/2"), "spring")
    assert record.plate_kind is not None
    assert record.plate_kind.emulsion == "home ripened"
    assert (at.plate("spring/1").place, at.stage("spring/1")) == (None, "exposed")
    assert {plate.name: plate.tray for plate in show(at.bench).plates.plates} == {
        "spring/1": "tray 1",
        "spring/2": "tray 1",
    }
    seen = []
    at.proceed()
    for seconds in (200.0, 31.0, 301.0, 601.0, 61.0):
        seen.append((at.stage("spring/1"), at.stage("spring/2")))
        at.pass_s(seconds)
        if at.lane.record.state == "due":
            at.proceed()
    seen.append((at.stage("spring/1"), at.stage("spring/2")))
    assert seen == [
        (one, one) for one in ("developing", "developing", "developing", "fixed", "washed", "dry")
    ]
    at.do(pa.FilePlate(plate="spring/2", place="drawer 2"))
    assert at.plate("spring/2").filed == "drawer 2"
    advanced = [one.event for one in at.entries if isinstance(one.event, le.PlateAdvanced)]
    assert len(advanced) == 8
    assert {event.run_id for event in advanced} == {record.run_id}


def test_a_run_given_up_before_its_first_bath_leaves_the_plate_what_it_was():
    at = PlatesAtHand()
    at.load("3A")
    at.expose("3A")
    at.do(acts.OpenRun(plate="spring/1", routine="plain"))
    with pytest.raises(Refused, match="spring/1 is in tray 1 already"):
        at.do(acts.OpenRun(plate="SPRING/1", routine="plain"))
    at.do(acts.Abandon())
    assert at.stage("spring/1") == "exposed"
    at.do(acts.OpenRun(plate="spring/1", routine="plain"))
    at.proceed()
    at.do(acts.Abandon())
    assert at.stage("spring/1") == "developing"
    for to in ("fixed", "washed", "dry"):
        at.do(pa.AdvancePlate(plate="spring/1", to=to))
    with pytest.raises(Refused, match="spring/1 is dry since"):
        at.do(pa.AdvancePlate(plate="spring/1", to="washed"))


@pytest.mark.parametrize(
    ("plates", "words"),
    [
        (("3B",), "side 3B holds no plate"),
        (("spring/2",), "spring/2 is broken since"),
        (("spring/1", "3A"), "a plate is named twice"),
    ],
)
def test_a_run_with_a_plate_that_can_not_be_is_not_opened(plates, words):
    at = PlatesAtHand()
    at.load("3A")
    at.do(pa.BreakPlate(plate="spring/2"))
    with pytest.raises(Refused, match=words):
        at.do(acts.OpenRun(plate=plates[0], others=plates[1:], routine="plain"))
    assert at.bench.runs.lanes == {}


def test_plates_that_nobody_entered_go_through_their_runs_as_ever():
    at = PlatesAtHand(plates=0)
    at.open("Kvarnvik 3", others=("Kvarnvik 4",))
    at.proceed()
    at.pass_s(200.0)
    assert at.lane.record.plates == ("Kvarnvik 3", "Kvarnvik 4")
    assert at.events(le.PlateLaidOut) == []


def test_a_broken_plate_brings_the_caution_and_leaves_its_side_empty():
    at = PlatesAtHand()
    at.load("3A")
    at.do(pa.BreakPlate(plate="3A", how="fell"))
    assert "no bare hands" in at.words_standing
    with pytest.raises(Refused, match="side 3A holds no plate since"):
        at.expose("3A")
    at.load("3A")
    assert "no bare hands" not in at.words_standing
    assert show(at.bench).plates.holders[0].sides[0].plate == "spring/2"


def test_a_panchromatic_plate_is_not_handled_under_the_safelight():
    at = PlatesAtHand(plates=0)
    at.do(pa.EnterBox(name="pan", plates=1, sensitivity="panchromatic"))
    at.safelight(on=True)
    with pytest.raises(Refused, match="pan/1 is panchromatic: the safelight must be off"):
        at.load("3A")
    at.safelight(on=False)
    at.load("3A")


def test_a_note_calls_the_plate_exposed_and_the_last_note_counts():
    at = PlatesAtHand()
    at.load("3A")
    at.note("3A", subject="mole", where="59.8,5.2", stop="f/16", f_number=16.0, time_s=2.0)
    at.note("spring/1", subject="mole, low water", where="Kvarnvik", latitude_deg=59.8, longitude_deg=5.2)
    at.note("spring/1", subject="mole, low water", where="Kvarnvik")
    plate = at.plate("spring/1")
    assert plate.stage == "exposed"
    assert plate.exposure is not None
    assert (plate.exposure.subject, plate.exposure.latitude_deg) == ("mole, low water", 59.8)
    at.load("3B")
    at.note("3B", where="kvarnvik")
    assert at.plate("3B").exposure == le.ExposureNoted(where="kvarnvik", latitude_deg=59.8, longitude_deg=5.2)
    at.do(pa.TakeBackExposure(plate="3B"))
    assert (at.stage("spring/2"), at.plate("spring/2").exposure) == ("loaded", None)


def lines(*notes: pa.NoteExposure) -> pa.ImportExposures:
    written = (pa.WrittenLine(line=number, note=note) for number, note in enumerate(notes, start=2))
    return pa.ImportExposures(lines=tuple(written))


def test_a_table_is_taken_in_whole_and_again_changes_nothing_even_after_the_holder_was_used_anew():
    at = PlatesAtHand()
    at.load("3A")
    at.load("3B")
    table = lines(
        pa.NoteExposure(plate="3A", taken=NOON, subject="mole", time_s=2.0),
        pa.NoteExposure(plate="3B", taken=NOON, subject="boats", time_s=4.0),
    )
    at.do(table)
    assert (at.stage("spring/1"), at.stage("spring/2")) == ("exposed", "exposed")
    at.do(pa.UnloadPlate(side="3A"))
    at.pass_s(60.0)
    at.load("3A")
    written = len(at.entries)
    at.do(table)
    assert len(at.entries) == written
    assert at.plate("3A").exposure is None
    changed = lines(pa.NoteExposure(plate="3A", taken=NOON, subject="mole again", time_s=2.0))
    at.do(changed)
    exposure = at.plate("spring/1").exposure
    assert exposure is not None
    assert exposure.subject == "mole again"


@pytest.mark.parametrize(
    ("note", "words"),
    [
        (pa.NoteExposure(plate="4B"), "line 3: plates: side 4B holds no plate"),
        (pa.NoteExposure(plate="3A", sky="pink"), 'line 3: sky: "pink" is not known'),
        (pa.NoteExposure(plate="spring/1"), "line 3: spring/1 stands there twice"),
        (pa.NoteExposure(plate="spring/3"), "line 3: exposure: spring/3 is boxed"),
    ],
)
def test_a_table_with_one_wrong_line_is_not_taken_in_at_all(note, words):
    at = PlatesAtHand()
    at.load("3A")
    written = len(at.entries)
    with pytest.raises(Refused, match=words):
        at.do(lines(pa.NoteExposure(plate="3A", subject="mole"), note))
    assert len(at.entries) == written


def test_a_box_is_put_right_and_finished_and_its_plates_still_know_it():
    at = PlatesAtHand(plates=1)
    at.do(pa.DescribeBox(box="spring", speed_index=3.0, opened="2026-03-01"))
    at.load("3A")
    at.do(pa.FinishBox(box="spring", why="empty"))
    book = show(at.bench).plates
    assert (book.boxes, book.plates[0].speed_index, book.plates[0].sensitivity) == ((), 3.0, "blue")
    with pytest.raises(Refused, match="Spring/1 is still on its way"):
        at.do(pa.EnterBox(name="Spring", plates=2))
    at.do(pa.BreakPlate(plate="3A"))
    at.do(pa.EnterBox(name="spring", plates=2))
    assert at.stage("spring/1") == "boxed"


def test_plates_of_another_size_than_the_holder_are_remarked_on():
    at = PlatesAtHand()
    at.do(pa.EnterHolder(name="Q", size="quarter plate"))
    at.load("QA")
    assert "spring/1 and holder Q are not of one size" in at.words_standing


def test_a_controller_that_comes_after_knows_the_book_and_the_runs_go_on(tmp_path: Path):
    at = PlatesAtHand()
    at.load("3A")
    at.load("3B")
    at.do(pa.UnloadPlate(side="3B"))
    at.expose("3A")
    at.do(acts.OpenRun(plate="3A", routine="plain"))
    with Journal.open(tmp_path / "journal.db", ballast_bytes=0) as journal:
        journal.append(at.entries)
        after = PlateBook(Scribe(at.clock), Notices(), rehearsal=False)
        take_up_plates(after, journal, lambda words, _: pytest.fail(words))
    assert after.shelf.plates == at.book.shelf.plates
    assert after.shelf.emptied == at.book.shelf.emptied
    assert after.shelf.boxes == at.book.shelf.boxes
    assert after.shelf.holders == at.book.shelf.holders
    at.proceed()
    assert at.stage("spring/1") == "developing"
    after.settle([at.lane])
    assert after.shelf.plate_called("spring/1").stage == "developing"
