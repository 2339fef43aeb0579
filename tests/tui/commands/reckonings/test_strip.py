"""``embertray reckon strip`` leads through a strip, or says why not."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon


def test_seven_patches_from_four_seconds_in_thirds():
    answer = reckon("strip", "--first", "4s", "--step", "1/3", "--patches", "7")
    assert answer.values["times_s"] == pytest.approx(
        [4.0, 5.039684, 6.349604, 8.0, 10.079368, 12.699208, 16.0]
    )
    assert answer.values["increments_s"] == pytest.approx(
        [4.0, 1.039684, 1.30992, 1.650396, 2.079368, 2.61984, 3.300792]
    )
    assert answer.lines[0] == "7 patches, 1/3 stop apart, from 4 s to 16 s"
    assert answer.lines[3].split() == ["1", "1", "to", "7", "4.00", "s", "4.00", "s"]
    assert len(answer.lines) == 10


def test_uncovering_opens_one_patch_more_each_time():
    answer = reckon("strip", "--first", "4s", "--step", "1", "--patches", "3", "--method", "uncovering")
    assert answer.values["times_s"] == [16.0, 8.0, 4.0]
    assert answer.values["increments_s"] == [8.0, 4.0, 4.0]
    assert answer.lines[-1].split() == ["3", "1", "to", "3", "4.00", "s", "4.00", "s"]


def test_each_exposure_gets_the_lag_and_whole_half_cycles():
    answer = reckon("strip", "--first", "4s", "--lag", "0.05s", "--mains", "50", "--patches", "3")
    assert answer.values["lamp_on_s"] == pytest.approx([4.05, 1.09, 1.36])
    assert answer.lines[-1].endswith("1.360 s")


def test_a_strip_about_a_time_is_read_between_two_patches():
    answer = reckon("strip", "--middle", "8s", "--step", "1/2", "--patches", "5", "--read", "3.5")
    assert answer.values["read_s"] == pytest.approx(8.0 * 2**0.25, abs=1e-6)
    assert answer.lines[-1] == "  patch 3.5 got 9.51 s"


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ((), "--first TIME or --middle TIME"),
        (("--first", "4s", "--middle", "8s"), "--first TIME or --middle TIME"),
        (("--first", "4"), "--first"),
        (("--first", "4s", "--step", "0"), "step"),
        (("--first", "4s", "--step", "two"), "--step"),
        (("--first", "4s", "--patches", "2.5"), "whole number"),
        (("--first", "4s", "--read", "8"), "1 to 7"),
        (("--first", "4s", "--mains", "55"), "50 Hz or 60 Hz"),
    ],
)
def test_what_is_no_strip_is_refused_with_its_place(words, place):
    with pytest.raises(Refused, match=place):
        reckon("strip", *words)
