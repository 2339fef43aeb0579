"""``daylight --day --sheet`` and ``mix --sheet`` write a page, and say no in one line."""

from __future__ import annotations

import json

import pytest

from tests.report.sheets.making import Read
from tui.cli import main

DAY = ("daylight", "--at", "56.05,-2.72", "--plate", "blue", "--index", "2", "--day",
       "--on", "2026-06-21", "--offset", "+01:00")  # fmt: skip
CARD = ("mix", "plain-hypo", "--make", "500ml")


@pytest.fixture
def said(capsys):
    def run(*words: object) -> tuple[int, str, str]:
        code = main([str(word) for word in words])
        out = capsys.readouterr()
        return code, out.out, out.err

    return run


def test_the_days_table_is_on_its_sheet_with_room_for_every_side(said, tmp_path):
    table = said(*DAY)[1]
    target = tmp_path / "day.html"
    title = "2026-06-21 at 56.05 N 2.72 W, hours in UTC+0100"
    assert said(*DAY, "--sheet", target) == (0, f"{target}: {title}\n", "")
    html = target.read_text(encoding="utf-8")
    page = Read(html).text
    for line in table.splitlines():
        assert " ".join(line.split()) in page
    for column in ("Side", "When", "Subject", "Stop", "Time", "Remark"):
        assert column in page
    assert html.count('<tr style="height: 8.5mm">') == 12


def test_the_figures_are_the_same_with_a_sheet(said, tmp_path):
    bare = json.loads(said(*DAY, "--json")[1])
    with_sheet = json.loads(said(*DAY, "--json", "--sheet", tmp_path / "day.html")[1])
    assert with_sheet == {**bare, "sheet": str(tmp_path / "day.html")}
    bare = json.loads(said(*CARD, "--json")[1])
    with_sheet = json.loads(said(*CARD, "--json", "--sheet", tmp_path / "card.html")[1])
    assert with_sheet == {**bare, "sheet": str(tmp_path / "card.html")}


def test_the_card_is_written_and_replaced_only_when_told(said, tmp_path):
    target = tmp_path / "card.html"
    assert said(*CARD, "--sheet", target) == (0, f"{target}: Plain hypo for plates: 500 ml\n", "")
    assert "124.7 g" in target.read_text(encoding="utf-8")
    code, out, err = said(*CARD, "--sheet", target)
    assert (code, out) == (1, "")
    assert "such a file already" in err
    assert said(*CARD, "--sheet", target, "--force")[0] == 0


def test_a_sheet_that_can_not_be_is_refused_in_one_line(said, tmp_path):
    single = ("daylight", "--at", "56.05,-2.72", "--plate", "blue", "--index", "2",
              "--on", "2026-06-21T12:00+01:00", "--stop", "f/16")  # fmt: skip
    for words, why in [
        ((*single, "--sheet", tmp_path / "a.html"), "with --day"),
        ((*DAY, "--sheet", tmp_path / "a.png"), ".html"),
        ((*CARD, "--sheet", tmp_path / "no" / "a.html"), "no such folder"),
    ]:
        code, out, err = said(*words)
        assert (code, out) == (1, "")
        assert why in err
        assert len(err.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []
