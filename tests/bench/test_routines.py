"""Routine files: read whole, or refused with file, step, key, finding and rule."""

from __future__ import annotations

from pathlib import Path

import pytest

from firmware_py.bench.routines import read_routine, shipped_routines
from firmware_py.craft.refusal import Refused
from firmware_py.craft.temperature import rate_of

GOOD = """
title = "One tray"
source = "own"
marks = ["image appears"]

[[step]]
name = "Develop"
kind = "develop"
bath = "developer"
[step.development]
target = "6 min"
reference = "20 degC"
coefficient = "2.36/10K"

[[step]]
name = "Fix"
kind = "fix"
bath = "hypo"
time = "10 min"
"""


def written(folder: Path, text: str) -> Path:
    path = folder / "mine.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_good_routine_is_called_after_its_file(tmp_path: Path):
    """Steps in their order, times in seconds."""
    routine = read_routine(written(tmp_path, GOOD))
    assert routine.name == "mine"
    assert [step.time_s for step in routine.steps] == [0.0, 600.0]
    development = routine.steps[0].development
    assert development is not None
    assert development.target_s == 360.0


def test_a_printed_table_may_stand_in_place_of_a_coefficient(tmp_path: Path):
    """Its own ends bound the range."""
    text = GOOD.replace(
        'coefficient = "2.36/10K"',
        'table = [["16 degC", "9 min"], ["20 degC", "6 min"], ["24 degC", "4 min 15 s"]]',
    )
    development = read_routine(written(tmp_path, text)).steps[0].development
    assert development is not None
    assert (development.low_degC, development.high_degC) == (16.0, 24.0)
    assert rate_of(development).rate(20.0) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (('kind = "fix"', 'kind = "fry"'), ["kind", "fry"]),
        (('time = "10 min"', 'tine = "10 min"'), ["tine", "did you mean `time`?"]),
        (('time = "10 min"', ""), ["needs a `time`"]),
        (('coefficient = "2.36/10K"', 'coefficient = "2.36"'), ["step 1 (Develop)", "coefficient"]),
        (('coefficient = "2.36/10K"', ""), ["either `coefficient` or `table`"]),
        (('target = "6 min"', 'target = "6 degC"'), ["target", "6 degC"]),
        (('target = "6 min"', 'target = "0.1 s"'), ["target", "allowed: 1 s to"]),
        (('reference = "20 degC"', 'reference = "30 degC"'), ["step 1 (Develop)", "30"]),
        (('title = "One tray"', ""), ["title", "missing"]),
    ],
)
def test_a_wrong_routine_is_refused_in_one_line(tmp_path: Path, change: tuple[str, str], words: list[str]):
    """Nothing is guessed."""
    assert change[0] in GOOD
    with pytest.raises(Refused) as caught:
        read_routine(written(tmp_path, GOOD.replace(*change, 1)))
    assert "mine.toml" in caught.value.line
    for word in words:
        assert word in caught.value.line


def test_every_shipped_routine_names_its_source():
    """Or says that it has none."""
    routines = shipped_routines()
    assert {"metol-hydroquinone", "pyro-soda"} <= set(routines)
    assert all(routine.source for routine in routines.values())
