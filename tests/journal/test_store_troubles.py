"""The store on a full disk, in a folder it may not write, held by another, or not a journal at all."""

from __future__ import annotations

import io
import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from firmware_py.journal.migrations import SCHEMA
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal
from tests.journal.making import entry, notes, subject

A = subject(1)
BALLAST = 256 * 1024


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "journal.db"


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 2 MB; only root may mount one."""
    folder = tmp_path / "small"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=2m,mode=0700", "embertray-test", str(folder)]
    if os.geteuid() != 0 or subprocess.run(mount, check=False, capture_output=True).returncode != 0:
        pytest.skip("no small disk can be mounted here")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)


def fill(folder: Path) -> Path:
    """Write until not a byte is free; return the file that took the room."""
    filler = folder / "filler"
    with filler.open("ab", buffering=0) as file:
        for size in (65536, 4096, 1):
            with pytest.raises(OSError, match="No space left"):
                write_for_ever(file, size)
    return filler


def write_for_ever(file: io.FileIO, size: int) -> None:
    while file.write(bytes(size)) > 0:
        pass


def append_for_ever(journal: Journal, of: str) -> None:
    while True:
        number = journal.last_number(of) + 1
        journal.append(notes(of, number, number))


def append_until_refused(journal: Journal, of: str) -> int:
    """Append remarks until the journal refuses; return the last number it took."""
    with pytest.raises(JournalRefused, match=r"full.*allowed: free some room"):
        append_for_ever(journal, of)
    return journal.last_number(of)


def test_a_full_disk_takes_the_ballast_first_and_then_refuses_in_one_line(small_disk):
    path = small_disk / "journal.db"
    with Journal.open(path, ballast_bytes=BALLAST) as journal:
        journal.append(notes(A, 1, 10))
        assert journal.ballast.is_held
        filler = fill(small_disk)
        last = append_until_refused(journal, A)
        assert not (small_disk / "journal.db.ballast").exists()
        assert last > 30
        assert journal.read(A) == notes(A, 1, last)
        filler.unlink()
        journal.append(notes(A, last + 1, last + 1))
    with JournalReader.open(path) as reader:
        assert reader.read(A) == notes(A, 1, last + 1)
    assert (small_disk / "journal.db.ballast").stat().st_size == BALLAST


def test_a_journal_opens_on_a_disk_without_a_free_byte_by_giving_up_its_ballast(small_disk):
    path = small_disk / "journal.db"
    with Journal.open(path, ballast_bytes=BALLAST) as journal:
        journal.append(notes(A, 1, 10))
    fill(small_disk)
    with Journal.open(path, ballast_bytes=BALLAST) as journal:
        assert not journal.ballast.is_held
        journal.append(notes(A, 11, 12))
        assert journal.read(A) == notes(A, 1, 12)


def test_ballast_is_made_again_while_writing_once_there_is_room(small_disk):
    with Journal.open(small_disk / "journal.db", ballast_bytes=BALLAST) as journal:
        filler = fill(small_disk)
        append_until_refused(journal, A)
        filler.unlink()
        last = journal.last_number(A)
        for number in range(last + 1, last + 130):
            journal.append(notes(A, number, number))
        assert journal.ballast.is_held


def test_a_file_that_may_grow_no_more_refuses_and_keeps_what_it_had(path):
    with Journal.open(path) as journal:
        pages = journal._connection.execute("PRAGMA page_count").fetchone()[0]
        journal._connection.execute(f"PRAGMA max_page_count = {pages + 3}")
        last = append_until_refused(journal, A)
        assert journal.read(A) == notes(A, 1, last)
        journal._connection.execute("PRAGMA max_page_count = 100000")
        journal.append(notes(A, last + 1, last + 1))
        assert journal.last_number(A) == last + 1


def test_a_second_writer_is_refused_by_the_first_ones_process_number(path):
    with Journal.open(path):
        with pytest.raises(JournalRefused, match=rf"process {os.getpid()}.*one writer at a time"):
            Journal.open(path)
        code = (
            "import sys, pathlib; from firmware_py.journal.store import Journal\n"
            "Journal.open(pathlib.Path(sys.argv[1]))"
        )
        other = subprocess.run(
            [sys.executable, "-c", code, str(path)], check=False, capture_output=True, text=True
        )
        assert f"another program writes it (process {os.getpid()})" in other.stderr
    Journal.open(path).close()


def test_a_program_that_holds_the_database_itself_is_refused_after_a_while(path):
    with Journal.open(path) as journal:
        # Found by the storm: with more, the page told of a locked book after more than 2 s.
        assert journal._connection.execute("PRAGMA busy_timeout").fetchone()[0] <= 1000
        journal._connection.execute("PRAGMA busy_timeout = 10")
        stranger = sqlite3.connect(path, isolation_level=None)
        stranger.execute("BEGIN IMMEDIATE")
        with pytest.raises(JournalRefused, match="another program holds it"):
            journal.append(notes(A, 1, 1))
        stranger.execute("ROLLBACK")
        stranger.close()
        journal.append(notes(A, 1, 1))


def test_a_folder_that_may_not_be_written_is_refused(tmp_path):
    """Root may write anywhere, so the try is made by a process that is not root."""
    folder = tmp_path / "closed"
    folder.mkdir()
    code = (
        "import os, sys, pathlib; sys.path.insert(0, os.getcwd())\n"
        "from firmware_py.journal.store import Journal\n"
        "from firmware_py.journal.refused import JournalRefused\n"
        "os.geteuid() or os.setuid(65534)\n"
        "try: Journal.open(pathlib.Path(sys.argv[1]))\n"
        "except JournalRefused as refused: print(refused)\n"
    )
    folder.chmod(0o555)
    for parent in (tmp_path, tmp_path.parent, tmp_path.parent.parent):
        if os.geteuid() == 0:
            parent.chmod(0o755)
    for name in ("journal.db", "deeper/journal.db"):
        found = subprocess.run(
            [sys.executable, "-c", code, str(folder / name)], check=True, capture_output=True, text=True
        )
        assert "Permission denied" in found.stdout
        assert str(folder) in found.stdout
    assert list(folder.iterdir()) == []


def test_a_journal_of_a_newer_program_is_refused_by_its_schema_number(path):
    Journal.open(path).close()
    stranger = sqlite3.connect(path)
    stranger.execute(f"PRAGMA user_version = {SCHEMA + 1}")
    stranger.close()
    for opening in (Journal.open, JournalReader.open):
        with pytest.raises(
            JournalRefused, match=rf"newer Embertray \(journal schema {SCHEMA + 1}\).*schema 1 to {SCHEMA}"
        ):
            opening(path)


def test_an_event_of_a_newer_program_is_refused_by_its_place_and_the_rest_is_read(path):
    with Journal.open(path) as journal:
        journal.append(notes(A, 1, 2))
    stranger = sqlite3.connect(path)
    stranger.execute(
        "INSERT INTO event SELECT 3, subject, 3, boot_id, boot_s, utc, 'TeaMade', 1, body, hash"
        " FROM event WHERE seq = 2"
    )
    stranger.commit()
    stranger.close()
    with JournalReader.open(path) as reader, pytest.raises(JournalRefused, match=rf"event 3 of {A}: TeaMade"):
        reader.read(A)


@pytest.mark.parametrize(
    "content", [b"not a database, only some words " * 40, b"SQLite format 3\x00" + bytes(84)]
)
def test_a_file_that_is_no_journal_is_refused_and_left_as_it_is(path, content):
    path.write_bytes(content)
    for opening in (Journal.open, JournalReader.open):
        with pytest.raises(JournalRefused):
            opening(path)
    assert path.read_bytes() == content


def test_the_database_of_another_program_is_refused_and_left_as_it_is(path):
    stranger = sqlite3.connect(path)
    stranger.execute("CREATE TABLE recipe (name)")
    stranger.close()
    before = path.read_bytes()
    for opening in (JournalReader.open, Journal.open):
        with pytest.raises(JournalRefused, match="another program"):
            opening(path)
    assert path.read_bytes() == before


def test_a_reader_finds_no_journal_where_there_is_none(path):
    with pytest.raises(JournalRefused, match="no such file"):
        JournalReader.open(path)
    path.touch()
    with pytest.raises(JournalRefused, match="empty"):
        JournalReader.open(path)


def test_a_journal_on_a_read_only_medium_can_be_read(small_disk):
    path = small_disk / "journal.db"
    with Journal.open(path, ballast_bytes=4096) as journal:
        journal.append(notes(A, 1, 2))
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    with JournalReader.open(path) as reader:
        assert reader.read(A) == notes(A, 1, 2)
    with pytest.raises(JournalRefused, match="Read-only"):
        Journal.open(path)


def test_a_journal_left_open_by_a_dead_writer_is_whole(path, tmp_path):
    journal = Journal.open(path)
    journal.append(notes(A, 1, 5))
    copy = tmp_path / "as it lay"
    copy.mkdir()
    for file in tmp_path.glob("journal.db*"):
        shutil.copy(file, copy / file.name)
    journal.close()
    with Journal.open(copy / "journal.db") as found:
        assert found.read(A) == notes(A, 1, 5)
        found.append([entry(A, 6, notes(A, 6, 6)[0].event)])
