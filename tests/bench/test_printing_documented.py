"""The manual's page on printing says what the code does: the foot's table, the settings, the interlocks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from firmware_py.bench.interlocks import ceiling, held_foot, open_plate, safe_start
from firmware_py.bench.lamp.lamp_foot import FOOT_TABLE, foot_rows
from firmware_py.settings import LampSection
from firmware_py.settings.foot import FootSection
from firmware_py.strict_toml import Seconds

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


def test_what_makes_a_press_is_explained_with_its_bounds():
    told = {row[0].strip("`"): " ".join(row[1:]) for row in rows("The foot switch in bench.toml")}
    assert set(told) < set(FootSection.__struct_fields__)
    assert "1 ms to 0.5 s" in told["debounce"]
    assert "0.2 s to 5 s" in told["long_press"]
    least, most = FootSection(debounce=Seconds(0.001)), FootSection(long_press=Seconds(5.0))
    assert (least.long_press, most.debounce) == (0.8, 0.02)
    for debounce_s, long_press_s in ((0.51, 0.8), (0.02, 0.19), (0.02, 5.1)):
        with pytest.raises(ValueError, match="allowed"):
            FootSection(debounce=Seconds(debounce_s), long_press=Seconds(long_press_s))


def test_every_interlock_of_the_lamp_has_its_line_and_its_watcher():
    told = {int(row[0]) for row in rows("What the bench will not do")}
    watchers = [open_plate, ceiling, held_foot, safe_start]
    assert told == {int(re.findall(r"^Interlock (\d)", watcher.__doc__ or "")[0]) for watcher in watchers}
