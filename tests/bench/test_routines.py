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
        (('target = "6 min"', 'target = "6 min"\nends = "eye"'), ["line 12", "step[0].development.ends"]),
        (('target = "6 min"', 'target = "6 min"\nends = "appearance"'), ["line 10", "needs a `factor`"]),
        (('target = "6 min"', 'target = "6 min"\nends = "inspection"'), ["needs a `ceiling`"]),
        (('target = "6 min"', 'target = "6 min"\nends = []'), ["`ends` names each of"]),
        (('target = "6 min"', 'target = "6 min"\nends = ["time", "time"]'), ["`ends` names each of"]),
        (('target = "6 min"', 'target = "6 min"\nceiling = "5 min"'), ["ceiling", "allowed: 360 s to"]),
        (('target = "6 min"', 'target = "6 min"\nfactor = 0.5'), ["line 12", "factor"]),
        (('target = "6 min"', 'target = "6 min"\nlongest = "9 h"'), ["longest", "allowed: 1 s to"]),
        (('time = "10 min"', 'time = "10 min"\nclearing = "again"'), ["no fixer before it is watched"]),
        (
            ('time = "10 min"', 'time = "10 min"\nclearing = "soon"'),
            ["line 20", "step[1].clearing", "allowed: again, once, twice"],
        ),
        (('time = "10 min"', 'changes = 6\neach = "5 min"'), ["only a `wash` has `changes`"]),
        (('time = "10 min"', 'each = "5 min"'), ["a wash in waters has `changes` and `each`"]),
        (
            ('time = "10 min"', 'time = "10 min"\nlight = "red"'),
            ["step[1].light", "red", "allowed: dark, safelight, white"],
        ),
        (('time = "10 min"', 'time = "10 min"\nlow = "24 degC"\nhigh = "16 degC"'), ["below `high`"]),
        (('name = "Fix"', 'name = "Fix"\nclearing = "twice"\ntime = "1 h"'), ["not TOML"]),
        (('marks = ["image appears"]', 'marks = ["fog", "fog"]'), ["two of `marks` have one name"]),
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


def test_each_kind_of_step_is_read_with_its_usual_light(tmp_path: Path):
    """The safelight until it is fixed, any light after; a routine may say otherwise."""
    text = (
        GOOD
        + """
clearing = "twice"
low = "16 degC"

[[step]]
name = "Second fixer"
kind = "fix"
bath = "hypo 2"
time = "5 min"
clearing = "again"
light = "white"

[[step]]
name = "Wash"
kind = "wash"
bath = "water"
changes = 6
each = "5 min"
agitate_every = "1 min"
"""
    )
    steps = read_routine(written(tmp_path, text)).steps
    assert [step.light for step in steps] == ["safelight", "safelight", "white", "white"]
    assert [step.clearing for step in steps] == [None, "twice", "again", None]
    assert (steps[3].changes, steps[3].time_s, steps[3].agitate_every_s) == (6, 300.0, 60.0)
    assert steps[1].low_degC == 16.0


def test_a_development_may_end_by_the_first_of_several(tmp_path: Path):
    """With a factor, a ceiling of equivalent time, and one of the clock."""
    ends = 'ends = ["appearance", "inspection"]\nfactor = 13\nceiling = "15 min"\nlongest = "20 min"'
    text = GOOD.replace('target = "6 min"', f'target = "6 min"\n{ends}')
    development = read_routine(written(tmp_path, text)).steps[0].development
    assert development is not None
    assert development.ends == ("appearance", "inspection")
    assert (development.factor, development.ceiling_s, development.longest_s) == (13.0, 900.0, 1200.0)
