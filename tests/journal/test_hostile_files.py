"""What comes out of the book acts on no terminal and no spreadsheet; odd files are refused at once."""

from __future__ import annotations

import csv
import io
import json
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from firmware_py.craft.refusal import LONGEST, Refused
from firmware_py.journal.cells import cell, read_cell
from firmware_py.journal.copies import backup, whole_or_not_at_all, write_lines, write_table
from firmware_py.journal.merge import import_lines, merge_journal
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.store import Journal
from firmware_py.service.exposure_table import Hours, read_table
from firmware_py.settings import Settings
from firmware_py.strict_toml import read_text, read_toml_text
from tests.journal.damage import flipped
from tests.journal.making import run_entries, subject
from tests.journal.making_plates import box_entries, holder_entries
from tui import cli
from tui.gate.dark import DARK_FILE, say_dark

A, B = subject(1), subject(2)
EVIL = "\x1b]0;x\x07\x9b31m\u202egnp\x7f"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "journal.db"
    with Journal.open(path, ballast_bytes=0) as journal:
        journal.append(run_entries(A, plate=f"=1+1 {EVIL}"))
    return path


def test_export_and_backup_go_through_no_file_that_is_there(path: Path, tmp_path: Path):
    mine = tmp_path / "mine"
    mine.write_text("mine")
    for name, kind in (("a.db", "link"), ("b.db", "file")):
        part = tmp_path / f"{name}.part"
        part.symlink_to(mine) if kind == "link" else part.write_text("theirs")
        with pytest.raises(JournalRefused, match=r"\.part: there is such a file already"):
            backup(path, tmp_path / name)
        assert os.path.lexists(part)
        assert not (tmp_path / name).exists()
    assert mine.read_text() == "mine"
    with whole_or_not_at_all(tmp_path / "c") as part:
        assert stat.S_IMODE(part.stat().st_mode) == 0o600
    (tmp_path / "d").symlink_to(tmp_path / "nowhere")
    with pytest.raises(JournalRefused, match="already"):
        backup(path, tmp_path / "d")


def test_the_file_of_the_black_screen_is_the_owners_only_and_never_a_link(tmp_path: Path):
    file = tmp_path / DARK_FILE
    file.touch(0o644)
    say_dark(tmp_path)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    file.unlink()
    mine = tmp_path / "mine"
    mine.write_text("mine")
    file.symlink_to(mine)
    say_dark(tmp_path)
    assert mine.read_text() == "mine"


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1", "@x", "\t=1", "\r=1", "'=1", "''-x", "'plain", "plain", ""]
)
def test_a_cell_comes_back_as_it_was_and_never_begins_like_a_formula(text: str):
    out = cell(text)
    assert read_cell(out) == text
    assert out[:1] not in {"=", "+", "-", "@", "\t", "\r"}
    assert cell(-1.5) == -1.5
    assert cell(None) is None


def test_a_table_of_runs_holds_no_formula_and_no_control_sign(path: Path):
    with JournalReader.open(path) as reader:
        file = io.BytesIO()
        write_table(reader.connection, file)
    text = file.getvalue().decode()
    assert not set(EVIL[:1] + "\x9b\u202e\x7f") & set(text)
    (row,) = csv.DictReader(io.StringIO(text))
    assert row["plate"].startswith("'=1+1 ?]0;x?")


def test_a_table_of_exposures_reads_what_was_escaped(tmp_path: Path):
    table = tmp_path / "table.csv"
    table.write_text("Side,Plate,Remark\n3A,,'=dark\n")
    assert read_table(table, Hours()).lines[0].note.remark == "=dark"


def test_json_out_of_the_book_has_no_sign_that_acts_and_means_the_same(path: Path, tmp_path: Path):
    with JournalReader.open(path) as reader:
        file = io.BytesIO()
        write_lines(reader.connection, file)
    text = file.getvalue().decode()
    assert all(sign.isprintable() or sign == "\n" for sign in text)
    assert json.loads(text.splitlines()[1])["event"]["plate"] == f"=1+1 {EVIL}"
    (tmp_path / "out.jsonl").write_bytes(file.getvalue())
    with Journal.open(tmp_path / "again.db", ballast_bytes=0) as journal:
        assert import_lines(journal, tmp_path / "out.jsonl").events == len(run_entries(A))


def test_no_command_prints_a_sign_that_acts(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    import msgspec

    path = tmp_path / "journal.db"
    with Journal.open(path, ballast_bytes=0) as journal:
        for entries in (box_entries(A), holder_entries(B)):
            first = entries[0]
            evil = msgspec.structs.replace(first.event, name=EVIL)
            journal.append([msgspec.structs.replace(first, event=evil), *entries[1:]])
        journal.append(run_entries(subject(3), plate=EVIL))
    for command in (["boxes"], ["holders"], ["list"], ["show", "last"], ["plates"], ["verify"]):
        for form in ([], ["--json"]):
            assert cli.main(["logbook", *command, *form, "--journal", str(path)]) == 0
            out = capsys.readouterr().out
            assert all(sign.isprintable() or sign == "\n" for sign in out), command


def test_a_damaged_book_is_not_merged_with_no_word(path: Path, tmp_path: Path):
    other = tmp_path / "other.db"
    with Journal.open(other, ballast_bytes=0) as journal:
        journal.append(run_entries(B))
        journal.append(run_entries(subject(3)))
    raw = other.read_bytes()
    place = raw.index(b'"event":"MarkMade"') + 12
    other.write_bytes(flipped(raw, place, 1))
    with Journal.open(path, ballast_bytes=0) as journal:
        with pytest.raises(JournalRefused, match="not whole"):
            merge_journal(journal, other)
        assert journal.last_number(B) == 0
        merged = merge_journal(journal, other, leave_out=True)
        assert (merged.subjects, len(merged.left_out)) == (1, 1)


def test_a_pipe_or_a_device_in_place_of_a_file_is_refused_at_once(tmp_path: Path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for odd in (pipe, Path("/dev/zero"), tmp_path):
        with pytest.raises(Refused, match=r"no plain file|directory"):
            read_text(odd, 1000)
        with pytest.raises(Refused):
            read_table(odd, Hours())
        with pytest.raises(Refused):
            Journal.open(odd, ballast_bytes=0)
        with Journal.open(tmp_path / "journal.db", ballast_bytes=0) as journal, pytest.raises(Refused):
            import_lines(journal, odd)


@pytest.mark.parametrize(
    "text",
    [
        "[bench]\nstate = " + "9" * 5000,
        "x = " + "[" * 100_000,
        '[bench]\nstate = "a\\u0000b"',
        "x = 1" + "0" * 99_000,
    ],
    ids=["digits", "nesting", "zero", "zeros"],
)
def test_settings_that_are_absurd_are_refused_in_one_short_line(text: str):
    with pytest.raises(Refused) as caught:
        read_toml_text(text, Settings, where="bench.toml")
    assert len(caught.value.line) < 3 * LONGEST
    assert "\n" not in caught.value.line


@pytest.mark.parametrize("body", ["9" * 50_000, "[" * 100_000, '{"event":' + '{"a":' * 50_000])
def test_an_export_that_is_absurd_is_refused_in_one_line(tmp_path: Path, body: str):
    (tmp_path / "x.jsonl").write_text('{"format": "embertray journal", "version": 1}\n' + body + "\n")
    (tmp_path / "y.jsonl").write_text(body + "\n")
    with Journal.open(tmp_path / "journal.db", ballast_bytes=0) as journal:
        for name in ("x.jsonl", "y.jsonl"):
            with pytest.raises(JournalRefused) as caught:
                import_lines(journal, tmp_path / name)
            assert len(caught.value.line) < 3 * LONGEST


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (KeyboardInterrupt(), 130),
        (MemoryError(), 1),
        (OSError(24, "Too many open files"), 1),
        (ImportError("x"), 1),
    ],
)
def test_an_end_for_want_of_something_is_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], error: BaseException, code: int
):
    def end(_: object) -> int:
        raise error

    monkeypatch.setattr(cli, "_run", end)
    assert cli.main(["check"]) == code
    said = capsys.readouterr().err
    assert said.startswith("embertray: ")
    assert said.count("\n") == 1


def test_a_unit_that_pint_has_to_know_loads_no_numpy():
    """In a fresh interpreter, with all that the controller is made of."""
    words = (
        "import sys, firmware_py.service.serving, firmware_py.bench.wiring, tui.commands.serve\n"
        "from firmware_py.craft.units import read_volume_ml\n"
        "read_volume_ml('1 imperial pint', where='x')\n"
        "assert 'pint' in sys.modules and not {'numpy', 'scipy'} & set(sys.modules)\n"
    )
    assert subprocess.run([sys.executable, "-c", words], check=False, timeout=60).returncode == 0
