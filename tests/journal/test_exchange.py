"""Books go out as text and come back, are copied while they grow, and are brought together, without loss."""

from __future__ import annotations

import csv
import io
import json
import stat
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.facts.about_run import AboutRun
from firmware_py.facts.events.run import BenchStarted, NoteWritten
from firmware_py.journal.copies import backup, write_lines, write_table
from firmware_py.journal.life_rows import plate_called
from firmware_py.journal.merge import Merged, import_lines, merge_journal
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.run_list import newest_runs
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.journal.keep import corrected_run
from tests.journal.making import entry, notes, run_entries, subject
from tests.journal.making_plates import mistaken_entries

A, B, C = subject(1), subject(2), subject(3)


def export(path: Path) -> bytes:
    with JournalReader.open(path) as reader:
        file = io.BytesIO()
        write_lines(reader.connection, file)
    return file.getvalue()


def book(path: Path, *runs, ballast_bytes=4096) -> Path:
    with Journal.open(path, ballast_bytes=ballast_bytes) as journal:
        for entries in runs:
            journal.append(entries)
    return path


@pytest.fixture
def whole(tmp_path: Path) -> Path:
    """Two runs, one still open, and a session."""
    session = [entry(C, 1, BenchStarted(program="0.1.0 „Kai“", rehearsal=True))]
    return book(tmp_path / "whole.db", run_entries(A), run_entries(B, ended=False), session)


def test_export_import_export_is_the_same_to_the_byte_and_verifies(whole, tmp_path):
    (tmp_path / "book.jsonl").write_bytes(export(whole))
    with Journal.open(tmp_path / "again.db") as journal:
        merged = import_lines(journal, tmp_path / "book.jsonl")
        assert merged == Merged(3, len(run_entries(A)) + len(run_entries(B, ended=False)) + 1)
        assert import_lines(journal, tmp_path / "book.jsonl") == Merged(0, 0)
    assert export(tmp_path / "again.db") == export(whole)
    assert verify(tmp_path / "again.db").faults == []


def test_an_export_can_be_read_and_its_chain_checked_by_a_program_that_knows_only_the_format(whole):
    """The rule for the hash is written out once more here, from the text of `rows.link` and `lines`."""
    heading, *lines = (json.loads(line) for line in export(whole).splitlines())
    assert heading == {"format": "embertray journal", "version": 1}
    last: dict[str, bytes] = {}
    for line in lines:
        event = json.dumps(line["event"], separators=(",", ":"), ensure_ascii=False)
        seconds = __import__("struct").pack(">d", line["boot_s"])
        columns = [
            (b"t", line["subject"].encode()),
            (b"i", str(line["number"]).encode()),
            (b"t", line["boot_id"].encode()),
            (b"f", seconds),
            (b"t", line["utc"].encode()),
            (b"t", line["event"]["event"].encode()),
            (b"i", str(line["schema"]).encode()),
            (b"t", event.encode()),
        ]
        content = b"".join(letter + len(raw).to_bytes(4, "big") + raw for letter, raw in columns)
        last[line["subject"]] = sha256(last.get(line["subject"], bytes(32)) + content).digest()
        assert line["hash"] == last[line["subject"]].hex()


def test_an_export_with_other_spaces_in_it_is_the_same_export(whole, tmp_path):
    spaced = [json.dumps(json.loads(line), ensure_ascii=False) for line in export(whole).splitlines()]
    (tmp_path / "spaced.jsonl").write_text("\n\n".join(spaced) + "\n", encoding="utf-8")
    with Journal.open(tmp_path / "again.db") as journal:
        import_lines(journal, tmp_path / "spaced.jsonl")
    assert export(tmp_path / "again.db") == export(whole)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (b'"embertray journal"', b'"tea journal"', "line 1: format 'tea journal', version 1 is not known"),
        (b'"version":1', b'"version":2', "line 1: format 'embertray journal', version 2"),
        (b'"number":2', b'"number":3', "event 3 of .*does not follow number 1"),
        (b'"half plate 7"', b'"half plate 8"', "event 1 of .*hash does not follow"),
        (b'"RunOpened"', b'"RunOpenee"', "event 1 of .*RunOpenee"),
        (b'"boot_s":1000.0', b'"boot_s":"x"', r"line 2: not an event of an export: Expected `float`"),
        (b'"schema":1', b'"schema":9', "event 1 of .*schema 9"),
        (b'"subject":', b'"topic":', "line 2: not an event"),
        (b"\n", b"", "line 1: "),
    ],
)
def test_a_changed_export_is_refused_by_its_place_and_nothing_is_taken(whole, tmp_path, old, new, told):
    file = tmp_path / "changed.jsonl"
    assert old in export(whole)
    file.write_bytes(export(whole).replace(old, new, 1))
    with Journal.open(tmp_path / "again.db") as journal:
        with pytest.raises(JournalRefused, match=f"changed.jsonl.*{told}"):
            import_lines(journal, file)
        assert journal.subjects() == []


def test_an_export_that_was_cut_off_is_refused(whole, tmp_path):
    (tmp_path / "cut.jsonl").write_bytes(export(whole)[:-10])
    with Journal.open(tmp_path / "again.db") as journal:
        with pytest.raises(JournalRefused, match="cut off"):
            import_lines(journal, tmp_path / "cut.jsonl")
        with pytest.raises(JournalRefused, match="No such file"):
            import_lines(journal, tmp_path / "none.jsonl")


def test_the_table_has_a_row_for_each_run_with_units_in_its_headings(whole):
    with JournalReader.open(whole) as reader:
        file = io.BytesIO()
        write_table(reader.connection, file)
        (newest, oldest) = newest_runs(reader.connection)
    rows = list(csv.DictReader(io.StringIO(file.getvalue().decode())))
    assert [row["run_id"] for row in rows] == [A, B]
    assert float(rows[0]["equivalent_s"]) == oldest.equivalent_s
    assert rows[1]["ended"] == ""
    assert rows[0].keys() >= set(AboutRun.__struct_fields__)
    assert (rows[0]["box"], rows[0]["dark"]) == ("", "False")
    assert newest.run_id == B


def test_a_backup_made_while_the_journal_is_written_is_whole_and_private(tmp_path):
    path = tmp_path / "journal.db"
    with Journal.open(path) as journal:
        journal.append(run_entries(A)[:9])
        backup(path, tmp_path / "copy.db")
        journal.append(run_entries(A)[9:])
    assert stat.S_IMODE((tmp_path / "copy.db").stat().st_mode) == 0o600
    assert verify(tmp_path / "copy.db").faults == []
    with Journal.open(tmp_path / "copy.db") as copy:
        assert copy.read(A) == run_entries(A)[:9]
        copy.append(run_entries(A)[9:])
    assert export(tmp_path / "copy.db") == export(path)


def test_a_backup_never_writes_over_a_file_and_leaves_none_behind_when_it_fails(whole, tmp_path):
    target = tmp_path / "copy.db"
    target.write_text("mine", encoding="utf-8")
    with pytest.raises(JournalRefused, match="such a file already"):
        backup(whole, target)
    assert target.read_text(encoding="utf-8") == "mine"
    with pytest.raises(JournalRefused, match="can not be made"):
        backup(whole, tmp_path / "nowhere" / "copy.db")
    raw = bytearray(whole.read_bytes())
    raw[4096:] = bytes(len(raw) - 4096)
    whole.write_bytes(raw)
    with pytest.raises(JournalRefused, match="damaged"):
        backup(whole, tmp_path / "other.db")
    assert sorted(file.name for file in tmp_path.glob("other*")) == []


def test_two_halves_merged_are_the_whole_and_merging_again_changes_nothing(tmp_path):
    runs = [run_entries(subject(n), readings=n % 5) for n in range(1, 11)]
    whole = book(tmp_path / "whole.db", *runs)
    half = book(tmp_path / "half.db", *runs[::2])
    other = book(tmp_path / "other.db", *runs[1::2])
    with Journal.open(half) as journal:
        assert merge_journal(journal, other) == Merged(5, sum(map(len, runs[1::2])))
        assert merge_journal(journal, other) == Merged(0, 0)
        assert merge_journal(journal, whole) == Merged(0, 0)
    assert export(half) == export(whole)
    assert verify(half).faults == []
    with JournalReader.open(half) as reader, JournalReader.open(whole) as entire:
        assert newest_runs(reader.connection) == newest_runs(entire.connection)


def test_a_book_that_goes_on_where_the_other_ends_lengthens_it_and_never_the_other_way(tmp_path):
    run = run_entries(A)
    short, long = book(tmp_path / "short.db", run[:5]), book(tmp_path / "long.db", run)
    with Journal.open(long) as journal:
        assert merge_journal(journal, short) == Merged(0, 0)
    with Journal.open(short) as journal:
        assert merge_journal(journal, long) == Merged(1, len(run) - 5)
    assert export(short) == export(long)


def test_chains_that_part_are_refused_by_name_and_nothing_at_all_is_taken(tmp_path):
    run = run_entries(B)
    ours = book(tmp_path / "ours.db", [*run[:5], entry(B, 6, NoteWritten(text="ours"), run[4].boot_s)])
    theirs = book(tmp_path / "theirs.db", run_entries(A), run)
    before = export(ours)
    with Journal.open(ours) as journal:
        with pytest.raises(JournalRefused, match=f"theirs.db: event 6 of {B} is another one"):
            merge_journal(journal, theirs)
        assert journal.subjects() == [B]
    assert export(ours) == before


def test_merging_what_is_no_journal_is_refused(tmp_path):
    (tmp_path / "empty.db").touch()
    with Journal.open(tmp_path / "ours.db") as journal:
        for name in ("none.db", "empty.db"):
            with pytest.raises(JournalRefused, match=name):
                merge_journal(journal, tmp_path / name)


@settings(max_examples=6, deadline=None)
@given(cuts=st.lists(st.tuples(st.integers(0, 16), st.integers(0, 16)), min_size=3, max_size=3))
def test_merging_is_the_same_in_either_order_and_keeps_the_longer(tmp_path_factory, cuts):
    folder = tmp_path_factory.mktemp("merge")
    chains = {subject(n): notes(subject(n), 1, 16) for n in range(3)}
    pairs = list(zip(chains.items(), cuts, strict=True))
    one = book(folder / "one.db", *[chain[:cut] for (_, chain), (cut, _) in pairs])
    two = book(folder / "two.db", *[chain[:cut] for (_, chain), (_, cut) in pairs])
    backup(one, folder / "first.db")
    with Journal.open(folder / "first.db", ballast_bytes=4096) as journal:
        merge_journal(journal, two)
    with Journal.open(two, ballast_bytes=4096) as journal:
        merge_journal(journal, one)
        for (of, chain), both in pairs:
            assert journal.read(of) == chain[: max(both)]
    assert export(folder / "first.db") == export(two)


def test_a_corrected_plate_goes_through_export_import_and_merge(tmp_path):
    """The book that the correction comes to, on top of the run as it was opened, lists the right plate."""
    corrected, back = corrected_run(), mistaken_entries(subject(24), box=A, holder=B)
    later = book(tmp_path / "later.db", corrected, back)
    (tmp_path / "book.jsonl").write_bytes(export(later))
    with Journal.open(tmp_path / "imported.db") as journal:
        import_lines(journal, tmp_path / "book.jsonl")
    earlier = book(tmp_path / "earlier.db", corrected[:-1], back[:-1])
    with Journal.open(earlier) as journal:
        merge_journal(journal, later)
    for path in (tmp_path / "imported.db", earlier):
        with JournalReader.open(path) as reader:
            assert [row.plate for row in newest_runs(reader.connection)] == ["spring/7"]
            assert plate_called(reader.connection, "spring/3").stage == "exposed"
        assert verify(path).faults == []
