"""``embertray reckon appearance`` multiplies, mixes and compares, or says what is missing."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon


def test_forty_five_seconds_times_five():
    answer = reckon("appearance", "--appeared", "45s", "--factor", "5")
    assert answer.values["time_s"] == 225
    assert answer.lines == ("3 min 45 s in all: 45 s to appear, times 5",)


def test_a_mixture_is_timed_at_once():
    answer = reckon("appearance", "--part", "6:1", "--part", "30:1", "--appeared", "10s")
    assert answer.values["factor"] == 18
    assert answer.values["time_s"] == 180


def test_a_plate_tells_its_factor():
    assert reckon("appearance", "--appeared", "20s", "--time", "4min").values["factor"] == 12


def test_a_misreading_may_be_early():
    answer = reckon("appearance", "--appeared", "9s", "--factor", "15", "--misread", "2s", "--early")
    assert answer.values["time_error_s"] == -30
    assert "30 s too short (22 %)" in answer.lines[-1]


def test_finished_in_a_colder_bath():
    words = ("--at", "20degC", "--finish", "16degC", "--coefficient", "2.36/10K")
    answer = reckon("appearance", "--appeared", "45s", "--factor", "5", *words)
    assert answer.values["after_appearance_s"] == pytest.approx(180 * 2.36**0.4)
    assert answer.values["finished_time_s"] == pytest.approx(45 + 180 * 2.36**0.4)


def test_the_factors_in_print_come_with_their_books():
    answer = reckon("appearance", "--agent", "pyro")
    assert [row["factor"] for row in answer.values["factors"]] == [4, 6, 7]  # type: ignore[index,union-attr,call-overload] # a list of objects
    assert any("diluted" in line for line in answer.lines)


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ((), "one way to know the factor"),
        (("--factor", "5", "--part", "6:1"), "one way to know the factor"),
        (("--factor", "5"), "--appeared"),
        (("--time", "4min"), "--appeared"),
        (("--factor", "five", "--appeared", "45s"), "--factor"),
        (("--factor", "5", "--appeared", "45"), "--appeared"),
        (("--part", "6"), "--part"),
        (("--factor", "5", "--appeared", "45s", "--at", "18degC"), "--finish"),
        (("--agent", "coffee"), "allowed: amidol"),
    ],
)
def test_what_is_missing_or_wrong_is_named(words, place):
    with pytest.raises(Refused, match=place):
        reckon("appearance", *words)
