"""``embertray logbook sheet`` writes the page of the run that was asked for, or says no in one line."""

from __future__ import annotations

import json

import msgspec
import pytest

from firmware_py.journal.store import Journal
from tests.journal.making import numbered, run_entries, subject
from tests.journal.making_prints import print_events
from tui.cli import main

A, B, PRINT = subject(1), subject(0xABCDE), subject(0xABCDF)


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "journal.db"
    opened, *rest = print_events()
    made = [msgspec.structs.replace(opened, run_id=A), *rest]
    with Journal.open(path) as journal:
        journal.append(run_entries(A))
        journal.append(run_entries(B, plate="Breakwater at slack water", ended=False))
        journal.append(numbered(PRINT, [(float(n), event) for n, event in enumerate(made)]))
    return path


def sheet(capsys, *words):
    code = main(["logbook", "sheet", *map(str, words)])
    said = capsys.readouterr()
    return code, said.out, said.err


def test_the_run_that_was_asked_for_is_written_with_its_prints(path, tmp_path, capsys):
    target = tmp_path / "sheet.html"
    assert sheet(capsys, A[-6:], "-o", target, "--journal", path) == (0, f"{target}: run {A}\n", "")
    html = target.read_text(encoding="utf-8")
    assert A in html
    assert PRINT in html
    code, out, _ = sheet(capsys, "last", "-o", target, "--journal", path, "--json", "--force")
    assert (code, json.loads(out)) == (0, {"run_id": B, "file": str(target)})
    assert "Breakwater at slack water" in target.read_text(encoding="utf-8")
    assert PRINT not in target.read_text(encoding="utf-8")


def test_what_can_not_be_written_is_refused_in_one_line_before_the_book_is_opened(path, tmp_path, capsys):
    (tmp_path / "there.svg").write_text("mine")
    for target, said in [("a.png", ".html"), ("there.svg", "already"), ("no/where.pdf", "no such folder")]:
        code, out, err = sheet(capsys, "last", "-o", tmp_path / target, "--journal", tmp_path / "none.db")
        assert (code, out) == (1, "")
        assert said in err
        assert len(err.splitlines()) == 1
    assert (tmp_path / "there.svg").read_text() == "mine"


def test_no_such_run_is_refused_and_no_file_is_made(path, tmp_path, capsys):
    code, _, err = sheet(capsys, "ffffffff", "-o", tmp_path / "a.html", "--journal", path)
    assert (code, "no such run" in err) == (1, True)
    assert not (tmp_path / "a.html").exists()
