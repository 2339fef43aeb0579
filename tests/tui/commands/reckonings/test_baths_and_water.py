"""Tempering, fixing, washing and exhaustion answer from a person's words, or say what is missing."""

import argparse

import pytest

from firmware_py.craft.refusal import Refused
from tui.commands.reckonings import topic_called

HALF_PLATE = "4 3/4 x 6 1/2 in"


def reckon(name, *words):
    topic = topic_called(name)
    parser = argparse.ArgumentParser()
    topic.declare(parser)
    return topic.reckon(parser.parse_args(words))


def test_hot_and_cold_are_told_in_millilitres():
    answer = reckon("tempering", "--hot", "60degC", "--cold", "50 degF", "--to", "20degC", "--make", "500ml")
    assert answer.values["cold_to_hot_by_mass"] == pytest.approx(4)
    assert answer.lines[0] == "102 ml hot and 399 ml cold for 500 ml at 20 °C"
    assert "thermometer" in answer.lines[-1]


def test_a_jacket_is_topped_up_or_iced():
    warm = reckon("tempering", "--bath", "2l", "--at", "18degC", "--to", "20degC", "--with", "60degC")
    cool = reckon("tempering", "--bath", "2l", "--at", "26degC", "--to", "20degC", "--ice=-18degC")
    assert warm.values["added_ml"] == pytest.approx(101.5, abs=0.5)
    assert cool.values["ice_g"] == pytest.approx(110, abs=1)
    assert all("jacket" in answer.lines[1] for answer in (warm, cool))


def test_a_tray_is_followed_from_two_readings():
    answer = reckon(
        "tempering",
        *("--read", "22degC@0min", "--read", "21degC@5min", "--room", "15degC"),
        *("--after", "5min", "--until", "18degC", "--tolerance", "0.2 K"),
    )
    assert answer.values["bath_degC"] == pytest.approx(15 + 36 / 7)
    assert answer.values["doubt_K"] > 0.2
    assert answer.values["until_s"] == pytest.approx(1349, abs=2)


def test_fixing_takes_twice_the_clearing_and_judges_the_fixer():
    answer = reckon("fixing", "--clears", "2min", "--fresh", "75s")
    assert answer.values["time_s"] == 240
    assert answer.values["verdict"] == "ageing"
    assert (
        reckon("fixing", "--clears", "2min", "--fresh", "75s", "--spent-at", "1.6").values["verdict"]
        == "spent"
    )
    two = reckon("fixing", "--clears", "2min", "--two-baths")
    assert (two.values["first_bath_s"], two.values["second_bath_s"]) == (600, 300)


def test_washing_is_counted_in_changes_and_in_minutes_of_flow():
    by_changes = reckon(
        "washing", "--hypo", "25 %", "--carried", "10ml", "--area", HALF_PLATE, "--each", "500ml"
    )
    assert by_changes.values["changes"] == 3
    one = reckon(
        "washing",
        "--strength",
        "60g/l",
        "--carried",
        "10ml",
        "--area",
        "200cm2",
        "--each",
        "500ml",
        "--changes",
        "1",
    )
    assert one.values["weakened_by"] == pytest.approx(51)
    assert "only 0.014 may stay" in one.lines[1]
    # The Barnet Book of Photography, 1898: plates have six changes of five to six minutes at the least
    assert one.lines[0] == "TOO FEW: give 6 changes, 5 min each, moving: 30 min in all"
    assert by_changes.values["at_least_s"] == one.values["at_least_s"] == 1800.0
    hardened = reckon(
        "washing",
        "--hypo",
        "25 %",
        "--carried",
        "10ml",
        "--area",
        HALF_PLATE,
        "--each",
        "500ml",
        "--hardened",
    )
    # after alum "very much longer", with no figure (the same); twice is our own
    assert (hardened.values["advised_changes"], hardened.values["at_least_s"]) == (12, 3600.0)
    flow = reckon(
        "washing",
        "--hypo",
        "250 g/l",
        "--carried",
        "10ml",
        "--area",
        HALF_PLATE,
        "--tank",
        "2l",
        "--flow",
        "1l",
    )
    assert flow.values["at_least_s"] == 1800
    assert flow.values["residue_g_per_m2"] == pytest.approx(0.014)
    assert "only" not in flow.lines[0]


def test_a_bath_in_use_is_told_by_area_age_and_time():
    answer = reckon(
        "exhaustion",
        *("--volume", "500ml", "--plate", HALF_PLATE, "--plates", "4", "--capacity", "30 sq in/100 ml"),
        *("--made", "2026-05-01T18:00", "--now", "2026-05-01T18:30", "--keeps", "45 min"),
        *("--time", "6min", "--longer", "10 %", "--every", "15 sq in/100 ml"),
    )
    assert answer.values["state"] == "good"
    assert answer.values["plates_left"] == 0
    assert answer.values["left_s"] == 900
    assert answer.values["time_s"] == pytest.approx(360 * (1 + 0.1 * 4 * 30.875 / 75))


@pytest.mark.parametrize(
    ("name", "words", "said"),
    [
        ("tempering", (), "not enough"),
        ("tempering", ("--hot", "60degC", "--to", "20degC"), "not enough"),
        (
            "tempering",
            ("--bath", "2l", "--at", "18degC", "--to", "20degC", "--with", "60degC", "--ice", "0degC"),
            "much",
        ),
        ("tempering", ("--read", "22degC@0min", "--room", "15degC"), "1 readings"),
        ("tempering", ("--read", "22degC", "--read", "21degC@5min", "--room", "15degC"), "not a reading"),
        ("tempering", ("--hot", "60 s", "--cold", "10degC", "--to", "20degC", "--make", "500ml"), "--hot"),
        ("fixing", (), "no clearing time"),
        ("fixing", ("--clears", "2"), "--clears"),
        ("washing", ("--hypo", "25 %"), "not enough"),
        (
            "washing",
            ("--hypo", "25 %", "--strength", "1 g/l", "--carried", "1ml", "--area", "1cm2"),
            "not enough",
        ),
        ("washing", ("--hypo", "25 %", "--carried", "1ml", "--area", "1cm2"), "neither"),
        ("washing", ("--hypo", "25", "--carried", "1ml", "--area", "1cm2", "--each", "1l"), "not a strength"),
        (
            "washing",
            ("--hypo", "25 %", "--carried", "1ml", "--area", "9cm2", "--each", "1l", "--changes", "1.5"),
            "whole number",
        ),
        ("exhaustion", ("--volume", "1l"), "no bath or no plate"),
        ("exhaustion", ("--volume", "1l", "--plate", "200cm2", "--made", "2026-05-01"), "go together"),
        ("exhaustion", ("--volume", "1l", "--plate", "200cm2", "--keeps", "8 days"), "needs --made"),
        (
            "exhaustion",
            ("--volume", "1l", "--plate", "200cm2", "--made", "May", "--now", "2026-05-01"),
            "no date",
        ),
        (
            "exhaustion",
            ("--volume", "1l", "--plate", "200cm2", "--capacity", "30 sq in"),
            "no area for a volume",
        ),
        ("exhaustion", ("--volume", "1l", "--plate", "200cm2", "--capacity", "30 sq in/0 ml"), "no volume"),
        ("exhaustion", ("--volume", "1l", "--plate", "200cm2", "--time", "6min"), "no rule"),
    ],
)
def test_half_a_question_is_refused_with_what_is_missing(name, words, said):
    with pytest.raises(Refused, match=said):
        reckon(name, *words)
