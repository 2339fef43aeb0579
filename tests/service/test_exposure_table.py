"""A table of exposures is read line by line, or refused with line, column and what is allowed."""

from __future__ import annotations

from pathlib import Path

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.plate import NoteExposure
from firmware_py.report.sheets.day_sheet import day_page
from firmware_py.service.exposure_table import COLUMNS, Hours, empty_table, read_table

DAY = Hours("2026-06-21", "+02:00")


def written(folder: Path, text: str, encoding: str = "utf-8") -> Path:
    path = folder / "day.csv"
    path.write_bytes(text.encode(encoding))
    return path


def test_every_column_is_read_as_it_was_meant(tmp_path: Path):
    text = (
        "Side,When,Subject,Stop,Time,Filter,Extension,Light,Scene,Where,Remark\n"
        "\n"
        '3A,14:10,"Mole, low water",U.S. 64,1/2,yellow 4,300/210,"hazy, side",Street,59.8N 5.2E,wind\n'
    )
    (line,) = read_table(written(tmp_path, text), DAY).lines
    assert line.line == 3
    assert line.note == NoteExposure(
        plate="3A",
        taken="2026-06-21T14:10+02:00",
        where="59.8N 5.2E",
        subject="Mole, low water",
        scene="street",
        sky="hazy",
        lighting="side",
        stop="U.S. 64",
        f_number=32.0,
        time_s=0.5,
        extension="300/210",
        extension_factor=(300 / 210) ** 2,
        filters="yellow 4",
        filter_factor=4.0,
        remark="wind",
    )


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_spreadsheets_of_all_countries_may_write_it(tmp_path: Path, mark: str):
    text = f"\ufeffside{mark}Time{mark}Remark: filter\r\n3A{mark}2{mark}wind\r\n"
    (line,) = read_table(written(tmp_path, text), DAY).lines
    assert (line.note.plate, line.note.time_s, line.note.remark) == ("3A", 2.0, "wind")


def test_the_columns_are_those_of_the_printed_day_sheet():
    *_, blanks = day_page(["title", "under"], [], [], []).blocks
    printed = [column.heading for column in blanks.columns]  # type: ignore[union-attr]
    assert [name for name in COLUMNS if name in printed] == printed[:-1]
    assert printed[-1].startswith(COLUMNS[-1])


def test_an_empty_table_has_a_line_for_each_side_and_is_read_once_filled_in(tmp_path: Path):
    text = empty_table([("3A", "spring/1"), ("3B", "spring/2")]).replace("3A,,", "3A,14:10,")
    first, second = read_table(written(tmp_path, text), DAY).lines
    assert (first.note.plate, first.note.taken) == ("spring/1", "2026-06-21T14:10+02:00")
    assert second.note == NoteExposure(plate="spring/2")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "day.csv: it is empty"),
        ("Side,Colour\n3A,red\n", 'line 1: there is no column "Colour"; allowed: Side, When'),
        ("Side,Time,time\n3A,2,2\n", 'line 1: two columns "time"'),
        ("When,Time\n14:10,2\n", "line 1: neither Side nor Plate"),
        ("Side,Stop\n3A,wide\n", 'line 2: Stop: "wide" is not a stop; allowed: "f/16", "U.S. 64"'),
        ("Side,Time\n3A,soon\n", "line 2: Time: "),
        ("Side,When\n3A,lunch\n", 'line 2: When: "lunch" is not a date'),
        ("Side,Light\n3A,pink\n", 'line 2: Light: "pink"'),
        ("Side,Scene\n3A,moon\n", 'line 2: Scene: subject: "moon" is not known; allowed: landscape'),
        ("Side,Filter\n3A,yellow\n", "line 2: Filter: .* has no factor"),
        ("Side,Extension\n3A,long\n", "line 2: Extension: .* is no extension"),
        ("Side,Time\n,2\n", "line 2: Side: nothing says which plate it was"),
        ("Side,Time\n3A,2,3\n", "line 2: 3 cells; allowed: 2"),
        (f"Side,Subject\n3A,{'x' * 200}\n", "line 2: subject: out of bounds; allowed: at most 120 signs"),
        ("Side,Time\n3A,2\n3B,soon\n4A,x\n4B,y\n", r"line 3: Time: .* \(2 more lines are wrong\)"),
        ("Side,Time\n", "0 exposures; allowed: 1 to 100"),
        ("Side\n" + "3A\n" * 101, "101 exposures; allowed: 1 to 100"),
        ('Side,Time\n3A,"2\n', "line .*: it can not be read"),
    ],
)
def test_what_is_wrong_is_told_with_its_line_and_column(tmp_path: Path, text: str, words: str):
    with pytest.raises(Refused, match=words):
        read_table(written(tmp_path, text), DAY)


def test_a_file_that_is_no_table_is_refused(tmp_path: Path):
    with pytest.raises(Refused, match="it is not UTF-8"):
        read_table(written(tmp_path, "Side,Subject\n3A,Küste\n", "latin-1"), DAY)
    with pytest.raises(Refused, match="No such file"):
        read_table(tmp_path / "none.csv", DAY)
    with pytest.raises(Refused, match="too long"):
        read_table(written(tmp_path, "x" * 300_000), DAY)
