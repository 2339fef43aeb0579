"""``embertray reckon salts`` says how much of the salt in the jar, or why not."""

import argparse

import pytest

from firmware_py.craft.refusal import Refused
from tui.commands.reckonings.salts import TOPIC


def reckon(*words):
    parser = argparse.ArgumentParser()
    TOPIC.declare(parser)
    return TOPIC.reckon(parser.parse_args(words))


def test_monohydrate_stands_in_for_washing_soda():
    answer = reckon("--have", "sodium carbonate monohydrate", "--for", "100 g sodium carbonate decahydrate")
    assert answer.values["grams"] == pytest.approx(43.34, abs=0.02)
    assert answer.lines[0].startswith("! Wear goggles")
    assert any(line.startswith("43.34 g of sodium carbonate monohydrate") for line in answer.lines)


def test_old_weights_are_read_and_a_bare_ounce_is_refused():
    answer = reckon("--have", "hypo anhydrous", "--for", "2 1/2 oz avoirdupois hypo")
    assert answer.values["for_grams"] == pytest.approx(2.5 * 28.349523125)
    with pytest.raises(Refused, match=r"--for: .*avoirdupois.*apothecary"):
        reckon("--have", "hypo anhydrous", "--for", "2 1/2 oz hypo")


def test_a_percentage_solution_is_made_by_the_true_and_by_the_old_per_cent():
    true = reckon("--salt", "potassium bromide", "--percent", "10", "--make", "100ml")
    old = reckon("--salt", "potassium bromide", "--percent", "10", "--make", "100ml", "--by-grains")
    assert true.values["grams"] == pytest.approx(10)
    assert old.values["percent_w_v"] == pytest.approx(10.95, abs=0.005)


def test_a_jar_of_crystals_may_have_dried_and_is_to_be_looked_at():
    crystals = reckon("--have", "washing soda", "--for", "10 g soda ash")
    assert crystals.values["grams"] == pytest.approx(27.0, abs=0.01)
    assert any("read the label" in line for line in crystals.lines)
    assert not any(
        "read the label" in line for line in reckon("--have", "soda ash", "--for", "10 g soda ash").lines
    )


def test_a_salt_is_described_with_what_to_beware_of():
    answer = reckon("--salt", "pyro")
    assert answer.values["formula"] == "C6H6O3"
    assert any("pyrogallol: harmful if swallowed; goes through the skin" in line for line in answer.lines)
    assert "NITE Japan" in answer.values["data_sheet"]


def test_every_answer_defers_to_the_safety_data_sheet():
    for words in [
        ("--salt", "hypo"),
        ("--salt", "hypo", "--percent", "25", "--make", "1 l"),
        ("--have", "hypo", "--for", "1 g hypo anhydrous"),
    ]:
        assert "! Follow the safety data sheet and local rules." in map(str.strip, reckon(*words).lines)


def test_where_no_sheet_was_read_the_answer_sends_to_the_suppliers():
    answer = reckon("--salt", "phenidone")
    assert any("NO SHEET WAS READ FOR IT: read your supplier's sheet" in line for line in answer.lines)
    assert answer.values["data_sheet"] is None


@pytest.mark.parametrize(
    "words",
    [(), ("--have", "hypo"), ("--for", "1 g hypo"), ("--salt", "hypo", "--percent", "5"), ("--make", "5 ml")],
)
def test_half_a_question_is_refused_with_the_whole_one(words):
    with pytest.raises(Refused, match="not enough to reckon with"):
        reckon(*words)


@pytest.mark.parametrize("text", ["hypo", "100 g", "100", "", "g"])
def test_a_mass_without_a_salt_or_a_salt_without_a_mass_is_refused(text):
    with pytest.raises(Refused):
        reckon("--have", "hypo", "--for", text)
