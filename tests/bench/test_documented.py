"""The manual's page on routines says what the code does: keys, the foot's table, cues, shipped routines."""

from __future__ import annotations

import re
from pathlib import Path

import msgspec
import pytest

from firmware_py.bench.routine_text import DevelopmentText, StepText
from firmware_py.bench.routines import shipped_routines
from firmware_py.bench.trays.foot_table import FOOT_TABLE
from firmware_py.bench.vocabulary import MarkWord, Phrase
from firmware_py.facts.tunes import PATTERNS, Beep

PAGE = (Path(__file__).parents[2] / "docs" / "routines.md").read_text(encoding="utf-8")


def rows(heading: str) -> list[list[str]]:
    """Return the cells of the table under a heading."""
    section = re.split(r"^## ", PAGE, flags=re.MULTILINE)
    text = next(part for part in section if part.startswith(heading))
    lines = [line for line in text.splitlines() if line.startswith("|")][2:]
    return [[cell.strip().strip("`") for cell in line.strip("|").split("|")] for line in lines]


def test_the_table_of_the_foot_is_the_one_the_bench_goes_by():
    found = {where: (short, long) for where, short, long in rows("What the foot means")}
    assert found == {name: (row.short_words, row.long_words) for name, row in FOOT_TABLE.items()}


def sign(beep: Beep) -> str:
    return next(s for s, most in ((",", 0.05), (".", 0.2), ("-", 0.5), ("=", 9.0)) if beep.on_s < most)


def test_the_rhythms_are_those_that_sound():
    found = {tune: rhythm for tune, rhythm, _ in rows("Cues")}
    assert found == {tune: "".join(map(sign, beeps)) for tune, beeps in PATTERNS.items()}


@pytest.mark.parametrize(
    ("shape", "heading"),
    [(StepText, "A step"), (DevelopmentText, "The development")],
)
def test_every_key_of_a_routine_is_explained(shape: type[msgspec.Struct], heading: str):
    told = set(re.findall(r"`(\w+)`", " ".join(f"`{row[0]}`" for row in rows(heading))))
    assert told == set(shape.__struct_fields__)


@pytest.mark.parametrize(("shape", "row"), [(MarkWord, 0), (Phrase, 1)])
def test_every_key_of_marks_and_phrases_is_explained(shape: type[msgspec.Struct], row: int):
    told = rows("Marks and phrases")[row][1]
    assert set(re.findall(r"[a-z]+", told)) >= set(shape.__struct_fields__)


def test_every_shipped_routine_is_named():
    listed = set(re.findall(r"^\| `([\w-]+)` \|", PAGE.split("## A step")[0], flags=re.MULTILINE))
    assert listed == set(shipped_routines())
