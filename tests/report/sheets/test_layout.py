"""A page laid out on leaves loses no word, and none runs over the edge."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.report.sheets.layout import leaves_of, long_leaf_of
from firmware_py.report.sheets.page import PAPERS_MM, Column, Facts, Page, Table, Words
from firmware_py.report.sheets.strip import Line, Rule, wrapped
from firmware_py.report.told import Fact

words = st.text(st.characters(categories=["L", "N", "P", "S"]), min_size=1, max_size=60)
texts = st.lists(words, min_size=1, max_size=12).map(" ".join)


def measure(said: str, size_pt: float, bold: bool) -> float:
    """Every sign two thirds of its size wide, a bold one nine tenths."""
    return len(said) * size_pt * (0.9 if bold else 0.66) * 25.4 / 72


def page(note: str, cell: str) -> Page:
    columns = (Column("No.", is_figure=True), Column("What", 4))
    blocks = (
        Facts("Facts", (Fact("short", "one"), Fact("long", note), Fact("room", ""))),
        Table("Table", columns, tuple((f"{n}", cell) for n in range(30)), row_mm=9.0),
        Words("Words", (note,) * 30),
        Words("Framed", (cell,), framed=True),
    )
    return Page("Title", "under", blocks, "foot", banner="BANNER", banner_words="said")


@settings(max_examples=30)
@given(texts, texts)
def test_no_word_is_lost_and_none_runs_over_the_edge(note, cell):
    leaves = leaves_of(page(note, cell), "A4", measure)
    lines = [item for leaf in leaves for item in leaf.items if isinstance(item, Line)]
    drawn = "".join(line.words for line in lines).replace(" ", "")
    assert drawn.count(note.replace(" ", "")) >= 31
    assert drawn.count(cell.replace(" ", "")) >= 1
    wide, high = PAPERS_MM["A4"]
    for line in lines:
        long_mm = measure(line.words, line.size_pt, line.bold)
        left = line.x_mm - long_mm if line.from_right else line.x_mm
        assert left >= 0
        assert left + long_mm <= wide
        assert 0 < line.y_mm < high


def test_leaves_end_before_the_edge_and_a_heading_is_never_left_alone():
    leaves = leaves_of(page("a note", "a cell"), "Letter", measure)
    assert len(leaves) > 1
    for leaf in leaves:
        lowest = max(max(i.y_mm, i.to_y_mm) for i in leaf.items if isinstance(i, Rule))
        assert lowest <= PAPERS_MM["Letter"][1] - 9
        last = [item for item in leaf.items if isinstance(item, Line)][-1]
        assert last.words not in {"Table", "Words", "Framed"}


def test_one_long_leaf_holds_the_same():
    leaves = leaves_of(page("a note", "a cell"), "A4", measure)
    long = long_leaf_of(page("a note", "a cell"), "A4", measure)
    assert len(long.items) == sum(len(leaf.items) for leaf in leaves)
    assert long.height_mm > PAPERS_MM["A4"][1]


def test_words_are_wrapped_between_them_and_a_long_one_is_broken():
    assert wrapped("to be or not", 8 * measure("x", 10, False), measure, 10) == ["to be or", "not"]
    assert wrapped("abcdefgh", 3 * measure("x", 10, False), measure, 10) == ["abc", "def", "gh"]
    assert wrapped("", 10, measure, 10) == [""]
