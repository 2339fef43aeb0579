"""A card keeps a formula's proportions at any volume, from any jar, and says what the balance costs."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.card import card_figures, card_lines
from firmware_py.craft.formula import Amount, Formula, Part, Solution, Working
from firmware_py.craft.mixing import mixing_card
from firmware_py.craft.refusal import Refused
from firmware_py.craft.salts import salt_named
from firmware_py.craft.weighing import smallest_batch_factor, weighed

MAKE = st.floats(min_value=10, max_value=20_000)


def part(name, grams, **more):
    return Part(salt_named(name), Amount(f"{grams} g", grams=grams), **more)


def solution(name="developer", *parts, water_ml=1000.0, **more):
    return Solution(name, parts, Amount(f"{water_ml} ml", volume_ml=water_ml), **more)


def formula(*solutions, **more):
    return Formula("mine", "Mine", "developer", "own", "", solutions, **more)


ONE = formula(
    solution(
        "developer", part("washing soda", 55.0, may_be_kin=True), part("hypo", 100.0), part("bromide", 1.0)
    )
)
TWO = formula(
    solution("A", part("pyro", 10.0), water_ml=500),
    solution("B", part("caustic soda", 20.0), water_ml=1000),
    working=Working((("A", 1.0), ("B", 2.0), ("water", 5.0)), advice="pour B into A"),
)


def grams(card):
    return {part.salt.name: weighing(part).grams for one in card.solutions for part in one.parts}


def weighing(part):
    assert part.weighing is not None
    return part.weighing


@given(make_ml=MAKE, times=st.floats(min_value=0.1, max_value=9))
@settings(max_examples=50)
def test_every_weight_grows_with_the_volume(make_ml, times):
    one, other = grams(mixing_card(ONE, make_ml)), grams(mixing_card(ONE, make_ml * times))
    for name, weight in one.items():
        assert other[name] == pytest.approx(weight * times, rel=1e-9)


@given(make_ml=MAKE)
@settings(max_examples=30)
def test_the_strength_is_that_of_the_formula(make_ml):
    assert grams(mixing_card(ONE, make_ml))["sodium thiosulphate pentahydrate"] == pytest.approx(make_ml / 10)


@given(make_ml=MAKE)
@settings(max_examples=30)
def test_what_is_poured_together_makes_the_volume_and_each_solution_is_made_as_needed(make_ml):
    card = mixing_card(TWO, make_ml)
    assert sum(volume for _, volume in card.working) == pytest.approx(make_ml)
    assert dict(card.working)["A"] == pytest.approx(make_ml / 8)
    assert [one.water_ml for one in card.solutions] == pytest.approx([make_ml / 8, make_ml / 4])
    assert grams(card)["pyrogallol"] == pytest.approx(10 / 500 * make_ml / 8)


def test_without_working_parts_the_leading_solution_has_the_volume_and_the_other_follows():
    led = formula(*TWO.solutions, working=Working(basis="B"))
    card = mixing_card(led, 200)
    assert [one.water_ml for one in card.solutions] == pytest.approx([100, 200])
    first_leads = mixing_card(formula(*TWO.solutions), 200)
    assert [one.water_ml for one in first_leads.solutions] == pytest.approx([200, 400])


def test_another_hydrate_in_the_jar_is_used_mole_for_mole():
    card = mixing_card(ONE, 1000, have=(salt_named("soda ash"), salt_named("hypo anhydrous")))
    first = card.solutions[0].parts[0]
    assert weighing(first).grams == pytest.approx(55 * 105.988 / 286.138)
    assert first.instead_of == salt_named("washing soda")
    assert card.solutions[0].parts[2].instead_of is None


def test_the_salt_of_the_other_metal_is_used_only_where_the_formula_allows_it():
    potash = salt_named("carbonate of potash")
    used = mixing_card(ONE, 1000, have=(potash,)).solutions[0].parts[0]
    assert used.salt == potash
    assert "spare plate" in used.remark
    with pytest.raises(Refused, match="nothing in mine can be made with potassium hydroxide"):
        mixing_card(TWO, 1000, have=(salt_named("caustic potash"),))


def test_a_jar_that_is_of_no_use_is_refused_and_not_forgotten():
    with pytest.raises(Refused, match=r"--have: nothing in mine can be made with metol; allowed: a form of"):
        mixing_card(ONE, 1000, have=(salt_named("metol"),))


def test_a_little_bromide_is_better_measured_from_a_solution():
    bromide = mixing_card(ONE, 100).solutions[0].parts[2]
    assert bromide.stock_ml is None
    bromide = mixing_card(ONE, 130).solutions[0].parts[2]
    assert weighing(bromide).is_coarse
    assert bromide.stock_ml == pytest.approx(1.3)


def test_the_card_says_which_batch_the_balance_can_weigh():
    card = mixing_card(ONE, 130)
    assert card.enough_ml is not None
    assert card.enough_ml == pytest.approx(1000)
    assert abs(card.worst_rounding_percent) > 5
    assert mixing_card(ONE, card.enough_ml).enough_ml is None
    assert mixing_card(ONE, 130, balance_g=0.001).enough_ml is None


@given(
    grams=st.floats(min_value=0.01, max_value=1000),
    balance=st.sampled_from([0.001, 0.01, 0.05, 0.1, 0.5, 1, 5]),
)
@settings(max_examples=100)
def test_rounding_is_to_the_nearest_step_and_its_error_is_told(grams, balance):
    one = weighed(grams, balance)
    assert abs(one.weigh_g - grams) <= balance / 2 * (1 + 1e-9)
    assert one.weigh_g / balance == pytest.approx(round(one.weigh_g / balance), abs=1e-6)
    assert one.grams * (1 + one.rounding_percent / 100) == pytest.approx(one.weigh_g, abs=1e-9)


@given(grams=st.floats(min_value=0.01, max_value=10), grow=st.floats(min_value=1, max_value=3))
@settings(max_examples=60)
def test_in_the_smallest_batch_or_a_larger_one_rounding_is_never_coarse(grams, grow):
    factor = smallest_batch_factor(weighed(grams, 0.1))
    assert not weighed(grams * factor * grow * (1 + 1e-9), 0.1).is_coarse


def test_a_weight_is_shown_as_the_balance_shows_it():
    assert weighed(1.25, 0.1).shown == "1.3 g"
    assert weighed(12.3456, 0.05).shown == "12.35 g"
    assert weighed(12.3456, 1).shown == "12 g"
    assert weighed(0.04, 0.1).weigh_g == 0


@pytest.mark.parametrize(("grams", "balance"), [(0, 0.1), (-1, 0.1), (float("nan"), 0.1), (1, 0), (1, 11)])
def test_what_no_balance_can_do_is_refused(grams, balance):
    with pytest.raises(Refused):
        weighed(grams, balance)


@pytest.mark.parametrize("make_ml", [0, -5, 200_001, float("nan"), float("inf")])
def test_a_volume_that_nobody_mixes_is_refused(make_ml):
    with pytest.raises(Refused, match="--make"):
        mixing_card(ONE, make_ml)


def test_a_column_the_book_does_not_print_is_refused():
    with pytest.raises(Refused, match="no metric column"):
        mixing_card(ONE, 100, column="metric")


def test_the_card_in_words_says_order_pouring_cautions_and_defers_to_the_data_sheet():
    lines = card_lines(mixing_card(TWO, 800))
    text = "\n".join(lines)
    assert lines.index("! Follow the safety data sheet and local rules.") < lines.index("Solution A")
    assert "For use: 100 ml of solution A + 200 ml of solution B + 500 ml of water" in text
    assert "pour B into A" in text
    assert "! pyrogallol: harmful if swallowed" in text
    assert text.index("Solution A") < text.index("  pyrogallol (") < text.index("Solution B")


def test_a_weight_below_the_balance_is_not_shown_as_nothing():
    text = "\n".join(card_lines(mixing_card(ONE, 10)))
    assert "too little  potassium bromide" in text
    assert "below the balance" in text


def test_a_liquid_is_measured_and_not_weighed():
    acid = Part(salt_named("glacial acetic acid"), Amount("15 ml", volume_ml=15.0))
    card = mixing_card(formula(solution("stop", acid)), 500)
    assert card.solutions[0].parts[0].measure_ml == pytest.approx(7.5)
    text = "\n".join(card_lines(card))
    assert "7.5 ml  acetic acid" in text
    assert "acid into water, never the reverse" in text


def test_the_figures_say_the_same_as_the_words():
    card = mixing_card(TWO, 800)
    figures = json.loads(json.dumps(card_figures(card)))
    assert figures["make_ml"] == 800
    assert figures["solutions"][1]["parts"][0]["grams"] == pytest.approx(4)
    assert figures["working"][2] == {"of": "water", "volume_ml": 500}
    assert figures["cautions"] == list(card.cautions)
