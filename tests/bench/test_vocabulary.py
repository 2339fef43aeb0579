"""Marks and phrases: a list of the person's own, one key each, and two roles."""

from __future__ import annotations

from pathlib import Path

import pytest

from firmware_py.bench.routines import read_routine
from firmware_py.bench.vocabulary import read_vocabulary, shipped_vocabulary
from firmware_py.craft.refusal import Refused

GOOD = """
[[mark]]
name = "there it is"
key = "v"
role = "appearance"

[[mark]]
name = "frills"
key = "f"
foot = false

[[mark]]
name = "milk gone"
key = "m"
role = "clearing"

[[phrase]]
words = "looks right"
key = "r"
"""
ROUTINE = """
title = "One tray"
source = "own"
{marks}
[[step]]
name = "Develop"
kind = "develop"
bath = "developer"
[step.development]
target = "6 min"
reference = "20 degC"
coefficient = "2.36/10K"
ends = "appearance"
factor = 10
ceiling = "15 min"

[[step]]
name = "Fix"
kind = "fix"
bath = "hypo"
time = "10 min"
clearing = "twice"
"""


def written(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_the_shipped_list_holds_and_every_mark_has_its_key():
    words = shipped_vocabulary()
    assert words.name_of("appearance") == "image appears"
    assert words.keys_for(words.names) == ("1", "2", "3", "4", "5", "6", "7")
    assert {"fog", "frilling"}.isdisjoint(words.by_foot(words.names))
    assert all(phrase.words for phrase in words.phrases)


def test_marks_of_ones_own_carry_the_roles_whatever_they_are_called(tmp_path: Path):
    """The routine names none: it takes the list, and the factor waits for the mark with the role."""
    words = read_vocabulary(written(tmp_path, "marks.toml", GOOD))
    routine = read_routine(written(tmp_path, "mine.toml", ROUTINE.format(marks="")), words)
    assert routine.marks == ("there it is", "frills", "milk gone")
    assert (routine.appearance_mark, routine.clearing_mark) == ("there it is", "milk gone")
    assert routine.foot_marks == ("there it is", "milk gone")


def test_a_routine_that_forgets_a_mark_it_needs_gets_it(tmp_path: Path):
    """A factor without an appearance, a fixer without a clearing, could never end."""
    path = written(tmp_path, "mine.toml", ROUTINE.format(marks='marks = ["shadow detail shows"]'))
    assert read_routine(path).marks == ("image appears", "shadow detail shows", "plate is clear")


def test_a_routine_may_give_the_role_to_a_mark_of_its_own_and_it_gets_a_free_key(tmp_path: Path):
    marks = 'marks = [{ name = "first grey", role = "appearance" }, "fog"]'
    routine = read_routine(written(tmp_path, "mine.toml", ROUTINE.format(marks=marks)))
    assert routine.appearance_mark == "first grey"
    assert routine.marks == ("first grey", "fog", "plate is clear")
    assert shipped_vocabulary().keys_for(routine.marks) == ("1", "5", "7")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (('key = "f"', 'key = "v"'), "two of `mark` have the key 'v'"),
        (('name = "frills"', 'name = "milk gone"'), "two of `mark` have the name 'milk gone'"),
        (('role = "clearing"', ""), "0 marks have the role `clearing`; allowed: exactly one"),
        (('role = "clearing"', 'role = "appearance"'), "2 marks have the role `appearance`"),
        (('role = "clearing"', 'role = "clear"'), r"line 15, key `mark\[2\].role`"),
        (('key = "f"', 'key = "F"'), r"line 9, key `mark\[1\].key`"),
        (('key = "f"', 'kay = "f"'), r"line 9, key `mark\[1\].kay`.*did you mean `key`"),
    ],
)
def test_a_wrong_list_is_refused_with_its_line(tmp_path: Path, change: tuple[str, str], words: str):
    assert change[0] in GOOD
    with pytest.raises(Refused, match=words):
        read_vocabulary(written(tmp_path, "marks.toml", GOOD.replace(*change, 1)))
