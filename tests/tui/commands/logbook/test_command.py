"""``embertray logbook`` reads, checks and copies the book, and says no in one line."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

import msgspec
import pytest

from firmware_py.facts.events.run import NoteWritten
from firmware_py.journal.copies import TABLE_HEADINGS
from firmware_py.journal.lines import Line
from firmware_py.journal.outcome import outcome
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from tests.journal.making import entry, run_entries, subject
from tests.journal.making_prints import print_entries
from tui.cli import main
from tui.commands.logbook.command import add_logbook

A, B = subject(1), subject(0xABCDE)
PLATE = "Breakwater at slack water, second plate"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "journal.db"
    run = run_entries(A)
    with Journal.open(path) as journal:
        journal.append(run)
        journal.append([entry(A, len(run) + 1, NoteWritten(text="thin\x1b[32m sky"), run[-1].boot_s)])
        journal.append(run_entries(B, plate=PLATE, ended=False))
    return path


def logbook(capsys, *words: object) -> tuple[int, str, str]:
    code = main(["logbook", *map(str, words)])
    said = capsys.readouterr()
    return code, said.out, said.err


def test_the_list_shows_runs_newest_first_in_lines_of_a_narrow_screen(path, capsys):
    code, out, err = logbook(capsys, "list", "--journal", path)
    first, second = out.splitlines()
    assert (code, err) == (0, "")
    assert first.startswith("000abcde 2026-03-14 20:00 Breakwater at slack…")
    assert second.split()[-3:] == ["pulled", "6:01", "6:05"]
    assert all(len(line) <= 80 for line in (first, second))


def test_the_list_is_the_same_in_json_with_units_in_its_keys(path, capsys):
    _, out, _ = logbook(capsys, "list", "--journal", path, "--json", "--limit", 1)
    (run,) = json.loads(out)["runs"]
    assert run["run_id"] == B
    assert {"elapsed_s", "equivalent_s", "target_s", "reference_degC", "bath_mean_degC"} <= set(run)


def test_prints_are_told_from_their_events_and_found_by_the_plates_run(path, capsys):
    with Journal.open(path) as journal:
        journal.append(print_entries(subject(7)))
    _, out, _ = logbook(capsys, "prints", "--journal", path)
    assert "print of half plate 7 (rehearsal)" in out
    assert "2.00, 4.00, 8.00 s by covering; patch 2 chosen" in out
    assert "± 0.400 s, estimated" in out
    (made,) = json.loads(logbook(capsys, "prints", "--journal", path, "--json")[1])["prints"]
    assert {"planned_s", "measured_s", "effective_s", "patches"} <= set(made)
    assert logbook(capsys, "prints", "--journal", path, "--of", "last")[1] == "No prints.\n"


def test_the_list_can_be_searched(path, capsys):
    assert "000abcde" in logbook(capsys, "list", "--journal", path, "--find", "slack")[1]
    assert logbook(capsys, "list", "--journal", path, "--find", "harbour")[1] == "No runs.\n"


def test_a_run_is_shown_with_its_notes_and_no_control_character(path, capsys):
    code, out, _ = logbook(capsys, "show", A[-6:], "--journal", path)
    assert code == 0
    told = dict(line.strip().split(maxsplit=1) for line in out.splitlines()[2:])
    assert (told["wanted"], told["clock"], told["equivalent"]) == ("6:00 at 20 °C", "6:01", "6:05 ± 0:15")
    assert told["note"] == "thin?[32m sky"
    assert "\x1b" not in out


def test_a_run_in_json_is_the_fold_of_its_events(path, capsys):
    _, out, _ = logbook(capsys, "show", "last", "--journal", path, "--json")
    shown = json.loads(out)
    came = outcome(RunRecord.replay(run_entries(B, plate=PLATE, ended=False)))
    assert shown["equivalent_s"] == came.equivalent_s
    assert shown["rate_per_K"] == 0.08


def test_a_good_book_verifies_and_a_bad_one_is_refused_with_what_is_wrong(path, tmp_path, capsys):
    code, out, err = logbook(capsys, "verify", "--journal", path)
    assert (code, err) == (0, "")
    assert "events of 2 runs: all whole" in out
    raw = path.read_bytes()
    path.write_bytes(raw.replace(b'"thin', b'"thjn', 1))
    code, out, err = logbook(capsys, "verify", "--journal", path)
    assert code == 1
    assert f"of {A}: its hash does not follow" in out
    assert len(err.splitlines()) == 1
    assert "--save" in err
    code, out, err = logbook(capsys, "verify", "--journal", path, "--save", tmp_path / "saved.db", "--json")
    assert code == 1
    assert json.loads(out)["saved"]["rest"] == 1
    assert logbook(capsys, "verify", "--journal", tmp_path / "saved.db")[0] == 0


def test_export_import_and_merge_bring_a_book_to_another_place(path, tmp_path, capsys):
    assert logbook(capsys, "export", "--journal", path, "-o", tmp_path / "book.jsonl")[0] == 0
    new = tmp_path / "new.db"
    code, out, _ = logbook(capsys, "import", tmp_path / "book.jsonl", "--journal", new)
    assert (code, out.endswith("new events in 2 runs and sessions.\n")) == (0, True)
    assert logbook(capsys, "merge", path, "--journal", new)[1] == "Nothing new.\n"
    assert logbook(capsys, "list", "--journal", new)[1] == logbook(capsys, "list", "--journal", path)[1]
    assert logbook(capsys, "rebuild", "--journal", new)[1].startswith("2 rows listed anew:")


def test_a_backup_can_be_listed(path, tmp_path, capsys):
    code, out, _ = logbook(capsys, "backup", tmp_path / "copy.db", "--journal", path)
    assert code == 0
    assert out == f"{tmp_path / 'copy.db'}: {(tmp_path / 'copy.db').stat().st_size} bytes\n"
    assert logbook(capsys, "list", "--journal", tmp_path / "copy.db")[1].count("\n") == 2


def test_the_table_goes_to_a_file(path, tmp_path, capsys):
    logbook(capsys, "export", "--format", "csv", "-o", tmp_path / "runs.csv", "--journal", path)
    assert (tmp_path / "runs.csv").read_text(encoding="utf-8").startswith("run_id,number,plate,")


@pytest.mark.parametrize(
    "words",
    [
        ["list"],
        ["show", "last"],
        ["verify"],
        ["export"],
        ["backup", "copy.db"],
        ["rebuild"],
    ],
)
def test_where_there_is_no_journal_it_says_so_in_one_line_and_makes_none(tmp_path, capsys, words):
    code, out, err = logbook(capsys, *words, "--journal", tmp_path / "none.db")
    assert (code, out) == (1, "")
    assert err.startswith("embertray: ")
    assert len(err.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_the_book_of_a_running_controller_is_read_but_not_written(path, tmp_path, capsys):
    with Journal.open(path):
        assert logbook(capsys, "list", "--journal", path)[0] == 0
        code, _, err = logbook(capsys, "merge", path, "--journal", path)
        assert code == 1
        assert "another program writes it (process" in err


def test_the_journal_is_the_benchs_own_where_none_is_named(path, capsys, monkeypatch):
    monkeypatch.setenv("EMBERTRAY_STATE", str(path.parent))
    assert "000abcde" in logbook(capsys, "list")[1]


def test_wrong_usage_is_told_apart_from_a_refusal(capsys):
    assert logbook(capsys, "list", "--limit", "0")[0] == 2
    assert logbook(capsys)[0] == 2


def test_the_manual_names_every_command_every_field_and_every_column():
    manual = (Path(__file__).parents[4] / "docs" / "logbook.md").read_text(encoding="utf-8")
    parser = argparse.ArgumentParser()
    add_logbook(parser.add_subparsers())
    (commands,) = (a for a in parser._actions if isinstance(a, argparse._SubParsersAction))
    (deeds,) = (a for a in commands.choices["logbook"]._actions if isinstance(a, argparse._SubParsersAction))
    for deed in deeds.choices:
        assert f"| `{deed}" in manual
    for name in (*TABLE_HEADINGS, *(field.name for field in msgspec.structs.fields(Line))):
        assert f"`{name}`" in manual
