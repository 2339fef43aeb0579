"""A temperature coefficient says which of the definitions in print it is, or is refused."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft import temperature as craft
from firmware_py.craft.refusal import Refused

slopes = st.floats(min_value=0, max_value=0.29)


@settings(max_examples=60)
@given(ln_per_K=slopes, per_K=st.floats(min_value=0.5, max_value=20))
def test_every_definition_goes_there_and_back(ln_per_K, per_K):
    ratio = craft.ratio_from_ln_per_K(ln_per_K, per_K)
    assert craft.ln_per_K_from_ratio(max(1.0, ratio), per_K) == pytest.approx(ln_per_K, abs=1e-12)
    log10 = craft.log10_per_K_from_ln(ln_per_K)
    assert craft.ln_per_K_from_log10(log10) == pytest.approx(ln_per_K, abs=1e-12)
    mees = craft.k25_k15_from_ln_per_K(ln_per_K)
    assert craft.ln_per_K_from_k25_k15(max(1.0, mees)) == pytest.approx(ln_per_K, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "ln_per_K"),
    [
        ("2.36/10K", math.log(2.36) / 10),
        ("2.36 / 10 K", math.log(2.36) / 10),
        ("1.9 per 10 degC", math.log(1.9) / 10),
        ("2.0/7K", math.log(2) / 7),
        ("1.5/10degF", math.log(1.5) / (50 / 9)),
        ("K25/K15=2.4", math.log(2.4) / 10),
        ("K(25)/K(15) = 2.4", math.log(2.4) / 10),
        ("0.037log/K", 0.037 * math.log(10)),
        ("0.037 log10 per degC", 0.037 * math.log(10)),
        ("0.0859ln/K", 0.0859),
    ],
)
def test_the_ways_of_print_are_read(text, ln_per_K):
    assert craft.read_coefficient(text, where="coefficient") == pytest.approx(ln_per_K, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["2.36", "2.36/K10", "", "x/10K", "0.5/10K", "30/1K", "2/0K", "-1log/K", "2.4/10"]
)
def test_a_coefficient_of_no_stated_kind_is_refused(text):
    with pytest.raises(Refused) as refused:
        craft.read_coefficient(text, where="developer.coefficient")
    assert str(refused.value).startswith("developer.coefficient: ")
    assert "; allowed: " in str(refused.value)


@settings(max_examples=100, deadline=None)
@given(
    text=st.one_of(st.text(max_size=100), st.from_regex(r"[K0-9.()/=]{0,12}(log|ln)?/?[K]?", fullmatch=True))
)
def test_hostile_coefficients_are_read_or_refused(text):
    try:
        ln_per_K = craft.read_coefficient(text, where="c")
    except Refused:
        return
    assert 0 <= ln_per_K <= 0.3


@settings(max_examples=60)
@given(ln_per_K=st.floats(min_value=0.02, max_value=0.12), first_s=st.floats(min_value=20, max_value=200))
def test_the_measured_coefficient_is_the_one_that_made_the_times(ln_per_K, first_s):
    appeared = [(first_s * math.exp(-ln_per_K * (bath - 10)), bath) for bath in (10.0, 14.0, 20.0, 23.0)]
    measured = craft.measured_coefficient(appeared)
    assert measured.ln_per_K == pytest.approx(ln_per_K, rel=1e-9)
    assert measured.uncertainty_per_K > 0


def test_a_shorter_span_of_temperature_measures_less_well():
    wide = craft.measured_coefficient([(70, 8.0), (25, 20.0)])
    narrow = craft.measured_coefficient([(42, 14.0), (25, 20.0)])
    assert narrow.uncertainty_per_K > 2 * wide.uncertainty_per_K


def test_the_uncertainty_is_what_scattered_trials_show():
    """Ten thousand imagined measurements scatter as much as the formula says."""
    dice = random.Random(5)
    trials = []
    for _ in range(10_000):
        pairs = [
            (70 + dice.gauss(0, 1), 8 + dice.gauss(0, 0.2)),
            (25 + dice.gauss(0, 1), 20 + dice.gauss(0, 0.2)),
        ]
        # the person divides by the temperatures read, not by the true ones
        trials.append(math.log(pairs[0][0] / pairs[1][0]) / (pairs[1][1] - pairs[0][1]))
    mean = sum(trials) / len(trials)
    scatter = math.sqrt(sum((x - mean) ** 2 for x in trials) / len(trials))
    assert craft.measured_coefficient([(70, 8.0), (25, 20.0)]).uncertainty_per_K == pytest.approx(
        scatter, rel=0.05
    )


@pytest.mark.parametrize(
    ("appeared", "said"),
    [
        ([(70, 8.0)], "two or more"),
        ([(70, 8.0), (60, 9.0)], "2 K or more"),
        ([(25, 8.0), (70, 20.0)], "later in the warmer bath"),
        ([(0, 8.0), (70, 20.0)], "1 s or more"),
        ([(700, 8.0), (1, 12.0)], "not one of development"),
    ],
)
def test_a_senseless_measurement_is_refused(appeared, said):
    with pytest.raises(Refused, match=said):
        craft.measured_coefficient(appeared)
