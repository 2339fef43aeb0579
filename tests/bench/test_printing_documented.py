"""The manual's page on printing says what the code does: the foot's table, the settings, the interlocks."""

from __future__ import annotations

import re
from pathlib import Path

from firmware_py.bench.interlocks import ceiling, held_foot, open_plate, safe_start
from firmware_py.bench.lamp.lamp_foot import FOOT_TABLE, foot_rows
from firmware_py.settings import LampSection

PAGE = (Path(__file__).parents[2] / "docs" / "printing.md").read_text(encoding="utf-8")


def rows(heading: str) -> list[list[str]]:
    """Return the cells of the table under a heading."""
    section = next(part for part in re.split(r"^## ", PAGE, flags=re.MULTILINE) if part.startswith(heading))
    lines = [line for line in section.splitlines() if line.startswith("|")][2:]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def test_the_table_of_the_foot_is_the_one_the_bench_goes_by():
    told = [tuple(row) for row in rows("The foot at the lamp")]
    assert told == [(r.situation, r.down, r.short, r.long, r.lift) for r in foot_rows()]
    assert len(told) == len(FOOT_TABLE)


def test_every_setting_of_the_lamp_is_explained():
    assert {row[0].strip("`") for row in rows("In bench.toml")} == set(LampSection.__struct_fields__)


def test_every_interlock_of_the_lamp_has_its_line_and_its_watcher():
    told = {int(row[0]) for row in rows("What the bench will not do")}
    watchers = [open_plate, ceiling, held_foot, safe_start]
    assert told == {int(re.findall(r"^Interlock (\d)", watcher.__doc__ or "")[0]) for watcher in watchers}
