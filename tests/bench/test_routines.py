"""Routine files: read whole, or refused with file, step, key, finding and rule."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from firmware_py.bench.routines import read_routine, shipped_routines
from firmware_py.craft.light_allowed import light_allowed
from firmware_py.craft.refusal import Refused
from firmware_py.craft.temperature import rate_of
from firmware_py.craft.verdict import FAULTS
from firmware_py.craft.washing import least_running_s
from firmware_py.data.formulary import shipped_formula

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
    made = read_routine(written(tmp_path, text))
    lights = [light_allowed(made, number) for number in range(4)]
    assert lights == ["safelight", "safelight", "safelight", "white"]
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


SHIPPED = tuple(shipped_routines().values())
CARBONATE = ("pyro-soda", "paper developer", "metol-hydroquinone developer")


def test_every_fixing_step_of_a_plate_asks_whether_it_is_clear_or_follows_one_that_did():
    """Twice the time to clear (Wall); in the dark the second fixer asks. Paper cannot be seen to clear."""
    for routine in SHIPPED:
        fixers = [step for step in routine.steps if step.kind == "fix"]
        if routine.sheet == "paper":
            assert sum(step.time_s for step in fixers) >= 600.0, routine.name
            continue
        assert any(step.clearing == "twice" for step in fixers), routine.name
        seen = [step for step in fixers if step.light != "dark"]
        assert all(step.clearing is not None for step in seen), routine.name


def test_no_plate_goes_from_a_carbonate_developer_into_acid_and_plain_hypo_has_a_minute_of_water_before():
    """The bench's own warning of blisters (`craft.verdict`) and its routines agree. Common practice."""
    warned = FAULTS["blisters"]
    assert "carbonate" in warned
    for routine in SHIPPED:
        for before, step in pairwise(routine.steps):
            if before.kind == "develop" and any(name in before.bath for name in CARBONATE):
                assert step.kind == "rinse" or routine.sheet == "paper", routine.name
            if step.bath.startswith("plain hypo"):
                assert before.kind == "rinse", routine.name
                assert before.time_s >= 60.0, routine.name


def test_every_stop_bath_has_a_strength_and_a_formula_with_its_source():
    stops = [step for routine in SHIPPED for step in routine.steps if step.kind == "stop"]
    assert {step.bath for step in stops} == {"acetic stop bath, 0.4 per cent"}
    formula = shipped_formula("stop-bath")
    acid = formula.solution("stop bath").parts[0].printed.volume_ml
    assert acid is not None
    # 1 fluid drachm in 32 fluid ounces: 1 in 256
    assert acid / (formula.solution("stop bath").water.volume_ml or 0) == pytest.approx(1 / 256)
    assert "Barnet" in formula.source


def test_after_an_alum_fixer_plates_are_washed_twice_as_long():
    for routine in SHIPPED:
        if any("alum" in step.bath for step in routine.steps):
            wash = next(step for step in routine.steps if step.kind == "wash")
            assert wash.time_s * wash.changes >= least_running_s(hardened=True)


@pytest.mark.parametrize(("maker", "low_degC", "high_degC"), [("metol", 8.0, 20.0), ("pyro", 4.0, 32.0)])
def test_the_range_of_a_routine_is_its_sources(maker: str, low_degC: float, high_degC: float):
    """Wall 1910: 8 and 20 degC; Ives 1920: 4 to 32 degC."""
    found = [s.development for r in SHIPPED for s in r.steps if s.development and maker in s.bath]
    assert found
    assert {(one.low_degC, one.high_degC) for one in found} == {(low_degC, high_degC)}
    assert {(one.beyond, one.rate_doubt) for one in found} == {("law", 0.25)}
