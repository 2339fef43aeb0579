"""The book of plates: boxes, holders and the lives of plates, as their events make them."""

from __future__ import annotations

import io
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import box as be
from firmware_py.facts.events import life as le
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.box_rows import boxes, holders
from firmware_py.journal.copies import write_lines
from firmware_py.journal.life_record import ORDER, UNDEVELOPED, PlateRecord
from firmware_py.journal.life_rows import (
    count_by_stage,
    emptied_sides,
    newest_plates,
    plates_at_hand,
    plates_of_run,
)
from firmware_py.journal.merge import Merged, import_lines, merge_journal
from firmware_py.journal.projections import faults
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.journal.making import entry, subject
from tests.journal.making_plates import (
    BOX,
    EXPOSURE,
    HOLDER,
    at_minutes,
    box_entries,
    broken_entries,
    holder_entries,
    life_entries,
)

B, H, P, Q = subject(1), subject(2), subject(3), subject(4)
BOXED = le.PlateBoxed(name="spring/1", box_id=B, box="spring", rehearsal=True)
LOADED = le.PlateLoaded(holder_id=H, holder="3", side="B")
LAID = le.PlateLaidOut(run_id="run 1", tray="tray 1")
EVENTS = (
    LOADED,
    le.PlateUnloaded(),
    le.PlateExposed(),
    le.ExposureTakenBack(),
    EXPOSURE,
    LAID,
    *(le.PlateAdvanced(to=to) for to in ORDER),
    le.PlateFiled(place="drawer 2"),
    le.PlateBroken(how="fell"),
)


def plate(*events: le.AnyLifeEvent) -> PlateRecord:
    return PlateRecord.replay(at_minutes(P, [BOXED, *events]))


def test_a_plate_goes_its_way_from_box_to_drawer():
    record = PlateRecord.replay(life_entries(P, box=B, holder=H))
    assert (record.stage, record.filed, record.state) == ("filed", "drawer 2", "open")
    assert record.exposure == EXPOSURE
    assert record.runs == ("run 1",)
    assert record.loading is not None
    assert (record.loading.name, record.place) == ("3B", None)
    assert record.loading.left_utc == life_entries(P, box=B, holder=H)[9].utc


@pytest.mark.parametrize(
    ("events", "stage", "is_in_holder"),
    [
        ((), "boxed", False),
        ((LOADED,), "loaded", True),
        ((LOADED, le.PlateExposed()), "exposed", True),
        ((LOADED, le.PlateUnloaded()), "boxed", False),
        ((LOADED, le.PlateExposed(), le.PlateUnloaded()), "exposed", False),
        ((LOADED, le.PlateExposed(), le.PlateUnloaded(), le.ExposureTakenBack()), "boxed", False),
        ((LOADED, le.PlateExposed(), le.ExposureTakenBack()), "loaded", True),
        # A plate laid out for a run that was then given up goes back into a box as what it was.
        ((LOADED, LAID), "boxed", False),
        ((LOADED, le.PlateExposed(), LAID), "exposed", False),
        ((LAID, le.PlateAdvanced(to="developing")), "developing", False),
    ],
)
def test_where_a_plate_is_follows_from_what_was_done(events, stage, is_in_holder):
    record = plate(*events)
    assert (record.stage, record.place is not None) == (stage, is_in_holder)


@pytest.mark.parametrize(
    ("events", "impossible"),
    [
        ((), le.PlateUnloaded()),
        ((), le.PlateExposed()),
        ((), EXPOSURE),
        ((), le.PlateAdvanced(to="fixed")),
        ((), le.PlateFiled(place="drawer")),
        ((LOADED,), LOADED),
        ((LOADED, le.PlateExposed()), le.PlateExposed()),
        ((LOADED, le.PlateExposed(), le.PlateUnloaded()), le.PlateUnloaded()),
        ((LAID, le.PlateAdvanced(to="developing")), LOADED),
        (
            (LAID, le.PlateAdvanced(to="developing"), le.PlateAdvanced(to="washed")),
            le.PlateAdvanced(to="fixed"),
        ),
        ((LAID, le.PlateAdvanced(to="developing")), le.PlateFiled(place="drawer")),
        ((le.PlateBroken(how="fell"),), LAID),
    ],
)
def test_what_can_not_be_is_refused_with_the_state_it_is_in(events, impossible):
    record = plate(*events)
    before = PlateRecord.replay(at_minutes(P, [BOXED, *events]))
    with pytest.raises(Refused, match=r"cannot .* while"):
        record.apply(entry(P, record.number + 1, impossible))
    assert record == before


@pytest.mark.parametrize(
    ("noted", "words"),
    [
        (le.ExposureNoted(time_s=0.0), "more than 0 s"),
        (le.ExposureNoted(f_number=-8.0), "more than f/0"),
        (le.ExposureNoted(extension_factor=0.5), "1 or more"),
        (le.ExposureNoted(filter_factor=0.0), "1 or more"),
    ],
)
def test_a_note_that_can_not_be_is_refused(noted, words):
    with pytest.raises(Refused, match=words):
        plate(LOADED, le.PlateExposed(), noted)


@settings(max_examples=60)
@given(st.lists(st.sampled_from(EVENTS), max_size=12))
def test_whatever_is_tried_a_plate_stays_what_a_plate_can_be(events):
    record = plate()
    for event in events:
        before = record.stage
        try:
            record.apply(entry(P, record.number + 1, event))
        except Refused:
            assert record.stage == before
            continue
        assert record.place is None or record.stage in UNDEVELOPED
        assert (record.stage == "loaded") <= (record.place is not None)
        assert before != "broken" or isinstance(event, le.ExposureNoted)
        if before in ORDER and record.stage in ORDER:
            assert ORDER.index(record.stage) >= ORDER.index(before)


def test_boxes_and_holders_take_no_more_once_they_are_out_of_use():
    box = BoxRecord.replay(box_entries(B, finished=True))
    assert (box.kind.speed_index, box.state, box.finished) == (2.5, "ended", "used up")
    with pytest.raises(Refused, match="cannot take BoxFinished while finished"):
        box.apply(entry(B, box.number + 1, be.BoxFinished(why="again")))
    holder = HolderRecord.replay(holder_entries(H, set_aside=True))
    with pytest.raises(Refused, match="cannot take HolderSetAside while set aside"):
        holder.apply(entry(H, holder.number + 1, be.HolderSetAside(why="again")))


@pytest.mark.parametrize("sides", [(), ("A", "A")])
def test_a_holder_needs_sides_that_can_be_told_apart(sides):
    with pytest.raises(Refused, match="different sides"):
        HolderRecord.begin(entry(H, 1, be.HolderEntered(name="3", sides=sides, size="", rehearsal=True)))


def test_rows_follow_every_single_event_and_answer_what_is_asked(tmp_path: Path):
    lives = (box_entries(B), holder_entries(H), life_entries(P, box=B, holder=H), broken_entries(Q, box=B))
    with Journal.open(tmp_path / "journal.db", ballast_bytes=0) as journal:
        for one in (one for life in lives for one in life):
            journal.append([one])
            assert journal.look(faults) is not None
            assert list(journal.look(faults)) == []
        assert [row.name for row in journal.look(boxes)] == [BOX.name]
        assert [row.sides for row in journal.look(holders)] == ['["A","B"]']
        assert journal.look(count_by_stage) == {B: {"filed": 1, "broken": 1}}
        assert [tuple(one) for one in journal.look(emptied_sides)] == [
            (H, "B", "2026-03-14T20:00:10Z", "spring/1")
        ]
        assert [row.plate_id for row in journal.look(lambda c: plates_at_hand(c, 5))] == [P, Q]
        assert journal.look(lambda c: plates_at_hand(c, 0)) == []
        assert [row.stage for row in journal.look(lambda c: newest_plates(c, box="SPRING"))] == [
            "broken",
            "filed",
        ]
        assert len(journal.look(lambda c: newest_plates(c, exposed=True))) == 1
        assert [row.plate_id for row in journal.look(lambda c: plates_of_run(c, "run 1"))] == [P]
        assert journal.rebuild().rows == 4
        assert list(journal.look(faults)) == []
    assert verify(tmp_path / "journal.db").faults == []


def test_the_last_plate_to_leave_a_side_is_told_for_holders_in_use_only(tmp_path: Path):
    gone = subject(5)
    earlier = at_minutes(Q, [BOXED, LOADED, le.PlateUnloaded(why="rain")])
    aside = at_minutes(P, [BOXED, le.PlateLoaded(holder_id=gone, holder="4", side="A"), le.PlateUnloaded()])
    later = life_entries(subject(6), box=B, holder=H, name="spring/6")
    with Journal.open(tmp_path / "journal.db", ballast_bytes=0) as journal:
        journal.append(box_entries(B) + holder_entries(H) + holder_entries(gone, set_aside=True))
        journal.append(later + earlier + aside)
        found = journal.look(emptied_sides)
    assert [(side.holder_id, side.side, side.name) for side in found] == [(H, "B", "spring/6")]


def test_a_row_that_was_changed_is_told_by_the_kind_of_its_subject(tmp_path: Path):
    with Journal.open(tmp_path / "journal.db", ballast_bytes=0) as journal:
        journal.append(box_entries(B) + life_entries(P, box=B, holder=H))
    with closing(sqlite3.connect(tmp_path / "journal.db", isolation_level=None)) as stranger:
        stranger.execute("UPDATE plate SET stage = 'dry'")
        stranger.execute("DELETE FROM box")
    assert verify(tmp_path / "journal.db").faults == [
        (f"box {B}", "its row is missing"),
        (f"plate {P}", "stage is 'dry', replayed 'filed'"),
    ]


def test_the_book_of_plates_goes_out_and_in_and_together_without_loss(tmp_path: Path):
    """Two benches used the same box and holder: their books come together, each plate where it is."""
    here = [*box_entries(B), *holder_entries(H)]
    with (
        Journal.open(tmp_path / "one.db", ballast_bytes=0) as one,
        Journal.open(tmp_path / "two.db", ballast_bytes=0) as two,
    ):
        for journal, lives in ((one, life_entries(P, box=B, holder=H)), (two, broken_entries(Q, box=B))):
            journal.append(here)
            journal.append(lives)
    with Journal.open(tmp_path / "one.db", ballast_bytes=0) as one:
        assert merge_journal(one, tmp_path / "two.db") == Merged(1, 2)
        assert merge_journal(one, tmp_path / "two.db") == Merged(0, 0)
        assert {row.name: row.stage for row in one.look(newest_plates)} == {
            "spring/1": "filed",
            "spring/2": "broken",
        }
    first = lines(tmp_path / "one.db")
    (tmp_path / "book.jsonl").write_bytes(first)
    with Journal.open(tmp_path / "again.db", ballast_bytes=0) as again:
        import_lines(again, tmp_path / "book.jsonl")
    assert lines(tmp_path / "again.db") == first


def test_a_row_that_is_not_what_the_events_say_is_found_and_an_impossible_event_refused(tmp_path: Path):
    with Journal.open(tmp_path / "journal.db", ballast_bytes=0) as journal:
        journal.append(broken_entries(Q, box=B))
        with pytest.raises(JournalRefused, match="cannot take PlateLoaded while broken"):
            journal.append([entry(Q, 3, LOADED)])
        journal.append([entry(H, 1, HOLDER)])
        journal._connection.execute("UPDATE plate SET stage = 'dry'")
        journal._connection.execute("DELETE FROM holder")
    found = {fault.what for fault in verify(tmp_path / "journal.db").faults}
    assert found == {"stage is 'dry', replayed 'broken'", "its row is missing"}


def lines(path: Path) -> bytes:
    file = io.BytesIO()
    with JournalReader.open(path) as reader:
        write_lines(reader.connection, file)
    return file.getvalue()
