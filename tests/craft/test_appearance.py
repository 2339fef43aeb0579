"""Factorial development carries a factor through any temperature, and says what a misreading costs."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft import appearance as craft
from firmware_py.craft.refusal import Refused
from firmware_py.craft.temperature import CoefficientRate, equivalent_time

RATE = CoefficientRate(math.log(1.9) / 10, 20.0)
appeared = st.floats(min_value=1, max_value=300)
factors = st.floats(min_value=1, max_value=100)


@settings(max_examples=50)
@given(appeared_s=appeared, factor=factors)
def test_a_factor_can_be_found_again_from_the_time(appeared_s, factor):
    time_s = craft.factorial_time(appeared_s, factor)
    assert time_s >= appeared_s
    assert craft.factor_used(appeared_s, max(time_s, appeared_s)) == pytest.approx(factor)


@settings(max_examples=50)
@given(parts=st.lists(st.tuples(factors, st.floats(min_value=0.1, max_value=20)), min_size=1, max_size=4))
def test_the_factor_of_a_mixture_lies_between_its_agents(parts):
    mixed = craft.factor_of_mixture(parts)
    assert min(f for f, _ in parts) - 1e-9 <= mixed <= max(f for f, _ in parts) + 1e-9
    doubled = craft.factor_of_mixture([(factor, 2 * share) for factor, share in parts])
    assert doubled == pytest.approx(mixed)


def test_a_misreading_is_multiplied_by_the_factor():
    late = craft.misread_appearance(45, 5, 3)
    assert late.time_error_s == 15
    assert late.share == pytest.approx(3 / 45)
    assert craft.misread_appearance(9, 15, -2).time_error_s == -30


@settings(max_examples=50)
@given(appeared_s=appeared, factor=factors, bath=st.floats(min_value=13, max_value=25))
def test_at_one_temperature_the_whole_time_is_factor_times_appearance(appeared_s, factor, bath):
    after_s = craft.time_after_appearance(RATE, appeared_s, factor, bath, bath)
    assert appeared_s + after_s == pytest.approx(appeared_s * factor)


@settings(max_examples=50)
@given(
    appeared_s=appeared,
    factor=factors,
    before=st.floats(min_value=13, max_value=25),
    after=st.floats(min_value=13, max_value=25),
)
def test_equivalent_time_carries_the_factor(appeared_s, factor, before, after):
    """The trace of both baths is worth the factor times what the appearance was worth."""
    left_s = craft.time_after_appearance(RATE, appeared_s, factor, before, after)
    trace = [(0.0, before), (appeared_s, before), (appeared_s, after), (appeared_s + left_s, after)]
    seen_s = equivalent_time(RATE, trace[:2])
    assert equivalent_time(RATE, trace) == pytest.approx(craft.equivalent_target(seen_s, factor))


def test_a_colder_finish_takes_longer():
    assert craft.time_after_appearance(RATE, 45, 5, 18, 15) > craft.time_after_appearance(RATE, 45, 5, 18, 18)


def test_the_factors_in_print_differ_twofold():
    amidol = [printed.factor for printed in craft.printed_factors("amidol") if printed.contrast != "soft"]
    assert max(amidol) >= 1.5 * min(amidol)
    with pytest.raises(Refused, match="allowed: amidol, glycin"):
        craft.printed_factors("coffee")


@pytest.mark.parametrize(
    ("refuse", "said"),
    [
        (lambda: craft.factorial_time(0, 5), "more than 0 s"),
        (lambda: craft.factorial_time(math.nan, 5), "more than 0 s"),
        (lambda: craft.factorial_time(45, 0.5), "allowed: 1 to 100"),
        (lambda: craft.factorial_time(45, math.inf), "allowed: 1 to 100"),
        (lambda: craft.factor_used(45, 40), "no less than the appearance"),
        (lambda: craft.factor_of_mixture([]), "no agent"),
        (lambda: craft.factor_of_mixture([(6, 0)]), "more than 0 parts"),
        (lambda: craft.misread_appearance(45, 5, -45), "more than -45 s"),
        (lambda: craft.time_after_appearance(RATE, 45, 5, 18, 30), "outside the range"),
    ],
)
def test_what_can_not_be_is_refused(refuse, said):
    with pytest.raises(Refused, match=said):
        refuse()
