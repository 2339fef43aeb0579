"""``embertray reckon safelight`` says how long, or why not."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon


def test_four_and_eight_minutes_are_safe_for_half_their_geometric_mean():
    answer = reckon("safelight", "--no-change", "4min", "--detectable", "8min")
    assert answer.values == {"safe_s": 169.7}
    assert answer.lines[0].startswith("safe for 2 min 49.7 s")


def test_open_times_use_the_plate_up_and_the_warning_is_said():
    answer = reckon(
        "safelight", "--no-change", "4min", "--detectable", "8min", "--open", "90s", "--open", "0:40"
    )
    assert answer.values["used_fraction"] == pytest.approx(130 / 169.7056, abs=1e-6)
    assert answer.values["state"] == "nearly used up"
    assert answer.values["left_s"] == {"tested light": 39.7}


def test_two_lights_share_one_budget():
    answer = reckon(
        "safelight",
        "--light",
        "red:170s",
        "--light",
        "amber:40s",
        "--open",
        "red:1:25",
        "--open",
        "amber:20s",
    )
    assert answer.values["state"] == "used up"
    assert answer.values["left_s"] == {"red": 0.0, "amber": 0.0}


def test_a_coarse_test_is_said_to_be_one():
    answer = reckon("safelight", "--no-change", "1min", "--detectable", "16min")
    assert any("finer steps" in line for line in answer.lines)


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ((), "--no-change TIME"),
        (("--no-change", "4min"), "--detectable"),
        (("--no-change", "8min", "--detectable", "4min"), "longer time"),
        (("--light", "170s"), "--light"),
        (("--light", "re\x1bd:170s"), "--light"),
        (("--light", "red:170s", "--open", "amber:20s"), '"amber"'),
        (("--light", "red:170s", "--open", "20s"), "tested light"),
        (("--light", "red:170s", "--open", "red:20"), "--open"),
    ],
)
def test_what_is_no_safelight_test_is_refused_with_its_place(words, place):
    with pytest.raises(Refused, match=place) as refused:
        reckon("safelight", *words)
    assert str(refused.value).isprintable()
