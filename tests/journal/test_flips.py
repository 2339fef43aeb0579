"""Bits flipped in file and log, files cut off: harmless to every event, or noticed; never a traceback."""

from __future__ import annotations

import shutil
import stat
from pathlib import Path

from firmware_py.journal.newest import Newest, witness_path, witnessed, write_witness
from firmware_py.journal.recover import open_or_recover
from firmware_py.journal.store import QUIET_LOOKS, Journal
from firmware_py.journal.verify import verify
from tests.journal import flips
from tests.journal.making import notes, subject

A = subject(1)


def test_some_flips_and_cuts_are_harmless_or_noticed():
    """400 of them: ``python -m tests.journal.flips --flips 400``."""
    _, failed = flips.play(flips=8, cuts=2, seed=11)
    assert failed == []


def _killed(folder: Path, *, look: bool = True) -> Path:
    path = folder / "journal.db"
    left = folder / "left"
    left.mkdir()
    with Journal.open(path, ballast_bytes=0) as journal:
        for number in range(1, 11):
            journal.append(notes(A, number, number))
        if look:
            journal.look_after()
        for file in folder.glob("journal.db*"):
            if not file.name.endswith("-shm"):
                shutil.copyfile(file, left / file.name)
    return left / "journal.db"


def _cut_log(path: Path) -> None:
    log = path.with_name("journal.db-wal")
    raw = bytearray(log.read_bytes())
    raw[len(raw) * 2 // 3] ^= 1
    log.write_bytes(raw)


def test_a_log_that_lost_its_end_is_noticed_by_verify_and_at_the_start_and_kept(tmp_path: Path):
    path = _killed(tmp_path)
    _cut_log(path)
    (fault,) = verify(path).faults
    assert "of the newest events are missing" in fault.what
    journal, words = open_or_recover(path)
    assert fault.what in words
    with journal:
        last = journal.last_number(A)
        assert 0 <= last < 10
        assert f"{10 - last} of the newest events" in words
        journal.append(notes(A, last + 1, last + 1))
    assert verify(path).faults == []
    assert (path.parent / "journal.damaged-1.db-wal").exists()
    assert open_or_recover(path)[1] == ""


def test_a_kill_before_the_witness_is_written_is_no_fault(tmp_path: Path):
    path = _killed(tmp_path, look=False)
    assert not witness_path(path).exists()
    assert verify(path).faults == []
    write_witness(path, Newest(3, b"\1" * 32))
    assert "another one" in verify(path).faults[0].what


def test_a_damaged_witness_says_nothing(tmp_path: Path):
    path = _killed(tmp_path)
    raw = bytearray(witness_path(path).read_bytes())
    raw[3] ^= 4
    witness_path(path).write_bytes(raw)
    assert witnessed(path) is None
    assert verify(path).faults == []


def test_the_witness_is_the_owners_only_and_a_quiet_log_is_folded_back(tmp_path: Path):
    path = tmp_path / "journal.db"
    with Journal.open(path, ballast_bytes=0) as journal:
        journal.append(notes(A, 1, 5))
        journal.look_after()
        assert stat.S_IMODE(witness_path(path).stat().st_mode) == 0o600
        assert path.with_name("journal.db-wal").stat().st_size > 0
        for _ in range(QUIET_LOOKS):
            journal.look_after()
        assert path.with_name("journal.db-wal").stat().st_size == 0
        journal.append(notes(A, 6, 6))
        assert journal.read(A) == notes(A, 1, 6)
