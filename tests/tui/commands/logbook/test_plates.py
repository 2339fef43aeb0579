"""``embertray logbook boxes|holders|plates|exposures``, with a controller and without."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from firmware_py.journal.reading import JournalReader
from firmware_py.journal.verify import verify
from tests.service.served_bench import served
from tui.cli import main

BOX = (
    "--plates",
    3,
    "--size",
    "English half plate",
    "--emulsion",
    "home ripened",
    "--sees",
    "blue",
    "--index",
    2,
)
DAY = ("--on", "2026-03-14", "--offset", "+01:00")
TABLE = "Side,When,Subject,Stop,Time,Light,Where,Remark\n3A,12:40,mole,f/16,1/2,clear,59.8N 5.2E,calm\n"


@pytest.fixture
def home(tmp_path: Path, monkeypatch) -> Path:
    for folder in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(folder, str(tmp_path))
    return tmp_path


@pytest.fixture
def book(capsys):
    """Say a command of the logbook; what it prints."""

    def logbook(*words: object) -> str:
        code = main(["logbook", *map(str, words)])
        said = capsys.readouterr()
        assert (code == 0) == (said.err == "")
        return str(said.out + said.err)

    return logbook


def shelf(book) -> None:
    book("boxes", "--enter", "spring", *BOX)
    book("holders", "--enter", "3")
    book("plates", "--load", "3A")


def test_boxes_holders_and_plates_are_entered_moved_and_told_without_a_controller(home, book):
    assert book("boxes", "--enter", "spring", *BOX, "--opened", "2026-03-14") == (
        "spring: English half plate; home ripened; sees blue; index 2; opened 2026-03-14; 3 boxed\n"
    )
    assert book("boxes", "--put-right", "spring", "--index", "1/4").count("index 0.25") == 1
    assert book("holders", "--enter", "3") == "3A: empty\n3B: empty\n"
    assert book("plates", "--load", "3A").split()[::4] == ["spring/1", "3A"]
    assert book("plates", "--exposed", "3a").split()[:2] == ["spring/1", "exposed"]
    assert book("holders") == "3A: spring/1, exposed\n3B: empty\n"
    assert book("plates", "--unload", "3A", "--why", "rain").split()[0] == "spring/1"
    assert book("plates", "--not-exposed", "spring/1").split()[:2] == ["spring/1", "boxed"]
    assert "no bare hands" in book("plates", "--broken", "spring/1", "--why", "fell")
    assert book("plates", "--remark", "spring/2", "--why", "thin edge").startswith("spring/2")
    assert [line.split()[0] for line in book("plates", "--stage", "boxed").splitlines()] == [
        "spring/3",
        "spring/2",
    ]
    plates = json.loads(book("plates", "--json"))["plates"]
    assert [(plate["name"], plate["stage"]) for plate in plates][-1] == ("spring/1", "broken")
    (box,) = json.loads(book("boxes", "--json"))["boxes"]
    assert box["plates"] == {"boxed": 2, "broken": 1}
    assert json.loads(book("holders", "--json"))["holders"][0]["sides"][0] == {
        "side": "3A",
        "plate": None,
        "stage": None,
    }
    assert book("holders", "--set-aside", "3") == "No holders.\n"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("plates", "--load", "3A"), "embertray: load: side 3A holds spring/1 (loaded) since"),
        (("plates", "--unload", "3B"), "embertray: plates: side 3B holds no plate; allowed: 3A\n"),
        (("plates", "--file", "spring/1"), "embertray: file: spring/1 is loaded since"),
        (("plates", "--remark", "spring/1"), "embertray: --remark: no words; allowed:"),
        (("boxes", "--enter", "a/b"), "embertray: name: has a sign that a name may not; allowed:"),
        (("boxes", "--enter", "new", "--size", "half plate"), "embertray: size: a half plate is two sizes"),
        (("boxes", "--enter", "new", "--index", "fast"), "embertray: --index:"),
        (("holders", "--enter", "3"), "embertray: holders: there is a side 3A already"),
        (("plates", "--load", "3B", "--journal", "none.db"), "embertray: none.db: there is no such journal"),
    ],
)
def test_an_impossible_step_is_refused_in_one_line(home, book, words, said):
    shelf(book)
    out = book(*words)
    assert out.startswith(said)
    assert out.count("\n") == 1


def test_a_table_is_taken_in_whole_and_again_changes_nothing_and_stands_beside_daylight(home, book, capsys):
    shelf(book)
    table = home / "day.csv"
    table.write_text(TABLE + "3B,12:50,boats,f/16,1,clear,,\n", encoding="utf-8")
    assert "line 3: plates: side 3B holds no plate" in book("exposures", "--import", table, *DAY)
    assert book("exposures") == "No exposures.\n"
    table.write_text(TABLE, encoding="utf-8")
    assert book("exposures", "--import", table, *DAY) == "1 exposure is in the book.\n"
    before = events(home)
    assert book("exposures", "--import", table, *DAY) == "1 exposure is in the book.\n"
    assert events(home) == before
    assert book("exposures") == (
        "spring/1, 2026-03-14 12:40, 59.8N 5.2E\n"
        "  mole\n"
        "  1/2 s at f/16\n"
        "  clear\n"
        "  daylight says 0.8 s: given 0.6 stop less, beyond its doubt of 0.4 stop\n"
        "  calm\n"
    )
    (told,) = json.loads(book("exposures", "--json"))["exposures"]
    asked = "--at 59.8N,5.2E --plate blue --index 2 --on 2026-03-14T12:40+01:00 --stop f/16 --json"
    main(["daylight", *asked.split()])
    said = json.loads(capsys.readouterr().out)
    assert told["daylight"]["reckoned_s"] == pytest.approx(said["time_s"])


def test_what_can_not_be_reckoned_says_why(home, book):
    shelf(book)
    (home / "day.csv").write_text("Side,Subject\n3A,mole\n", encoding="utf-8")
    book("exposures", "--import", home / "day.csv")
    assert "daylight: nobody said where it was" in book("exposures")


def test_a_template_has_a_line_for_each_full_side_and_no_file_is_written_over(home, book):
    shelf(book)
    assert book("exposures", "--template", home / "new.csv") == f"{home}/new.csv: 1 sides\n"
    assert (home / "new.csv").read_text(encoding="utf-8").splitlines()[1] == "3A,,,,,,,,,,spring/1,"
    assert "there is such a file already" in book("exposures", "--template", home / "new.csv")


def test_while_a_controller_runs_it_is_the_one_that_writes(tmp_path: Path, monkeypatch, book):
    with served(tmp_path) as bench:
        monkeypatch.setenv("EMBERTRAY_CONFIG", str(bench.config))
        client = bench.client()
        shelf(book)
        (tmp_path / "day.csv").write_text(TABLE, encoding="utf-8")
        assert book("exposures", "--import", tmp_path / "day.csv", *DAY) == "1 exposure is in the book.\n"
        assert "side 3B holds no plate" in book("plates", "--exposed", "3B")
        assert "another program" in book("plates", "--load", "3B", "--journal", bench.journal)
        (plate,) = client.look()["plates"]["plates"]
        assert (plate["name"], plate["side"], plate["stage"]) == ("spring/1", "3A", "exposed")
        assert plate["exposure"]["subject"] == "mole"
    assert verify(bench.journal).faults == []


def events(home: Path) -> int:
    (path,) = home.rglob("journal.db")
    with JournalReader.open(path) as reader:
        return int(reader.connection.execute("SELECT count(*) FROM event").fetchone()[0])
