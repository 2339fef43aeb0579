"""Contrast grows towards an end value; what the points can not tell is refused."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from firmware_py.craft import contrast as craft
from firmware_py.craft.refusal import Refused

growths = st.builds(
    craft.Growth,
    gamma_inf=st.floats(min_value=0.3, max_value=4),
    k_per_min=st.floats(min_value=0.05, max_value=2),
)


@settings(max_examples=50)
@given(growth=growths, share=st.floats(min_value=0.01, max_value=0.98))
def test_the_time_for_a_gamma_gives_that_gamma(growth, share):
    gamma = growth.gamma_inf * share
    assert growth.gamma_at(growth.time_for(gamma)) == pytest.approx(gamma, rel=1e-9)


@settings(max_examples=50)
@given(
    growth=growths,
    first=st.floats(min_value=0, max_value=3600),
    second=st.floats(min_value=0, max_value=3600),
)
def test_longer_development_is_never_softer_nor_over_the_end_value(growth, first, second):
    first, second = sorted((first, second))
    assert growth.gamma_at(first) <= growth.gamma_at(second) <= growth.gamma_inf


@settings(max_examples=50, deadline=None)
@given(
    growth=growths, time_s=st.floats(min_value=30, max_value=600), ratio=st.floats(min_value=1.3, max_value=4)
)
def test_two_points_of_a_growth_give_it_back(growth, time_s, ratio):
    points = [(t, growth.gamma_at(t)) for t in (time_s, ratio * time_s)]
    assume(growth.k_per_min * time_s / 60 < 4)  # later, both points lie on the end value
    found = craft.fit_growth(points).growth
    assert found.gamma_inf == pytest.approx(growth.gamma_inf, rel=1e-5)
    assert found.k_per_min == pytest.approx(growth.k_per_min, rel=1e-4)


@settings(max_examples=50, deadline=None)
@given(growth=growths, time_s=st.floats(min_value=30, max_value=600))
def test_a_time_and_its_double_need_no_fitting(growth, time_s):
    assume(growth.k_per_min * time_s / 60 < 4)
    exact = craft.fit_growth(
        [(time_s, growth.gamma_at(time_s)), (2 * time_s, growth.gamma_at(2 * time_s))]
    ).growth
    assert exact.gamma_inf == pytest.approx(growth.gamma_inf, rel=1e-6)
    assert exact.k_per_min == pytest.approx(growth.k_per_min, rel=1e-5)


def test_worse_readings_make_the_time_less_sure():
    points = [(180.0, 0.8948), (360.0, 1.2374)]
    careful, careless = (craft.fit_growth(points, gamma_doubt=doubt) for doubt in (0.01, 0.05))
    assert careless.time_doubt_s(1.1) == pytest.approx(5 * careful.time_doubt_s(1.1))
    assert careful.misfit == 0


def test_the_time_is_surest_between_the_points():
    measured = craft.fit_growth([(180.0, 0.8948), (360.0, 1.2374)])
    assert measured.time_doubt_s(1.0) < measured.time_doubt_s(1.4)


@pytest.mark.parametrize(
    ("points", "said"),
    [
        ([(180.0, 0.9)], "one time tells no growth"),
        ([(180.0, 0.9), (180.0, 0.92)], "one time tells no growth"),
        ([(180.0, 0.9), (360.0, 0.9)], "contrast is full"),
        ([(180.0, 0.9), (360.0, 0.8)], "mixed up"),
        ([(180.0, 0.5), (360.0, 1.0)], "no less than in proportion"),
        ([(180.0, 0.5), (360.0, 1.2)], "no end value"),
        ([(60.0, 0.1), (180.0, 0.5), (360.0, 1.4)], "no end value"),
        ([(0.0, 0.0), (360.0, 1.2)], "a time and a gamma above 0"),
        ([(180.0, math.nan), (360.0, 1.2)], "a time and a gamma above 0"),
    ],
)
def test_points_without_an_end_value_are_refused(points, said):
    with pytest.raises(Refused, match=said):
        craft.fit_growth(points)


@pytest.mark.parametrize("gammas", [(0.5, 1.0), (0.5, 1.2), (0.9, 0.9), (0.9, 0.8)])
def test_a_pair_outside_the_law_is_refused(gammas):
    with pytest.raises(Refused):
        craft.fit_growth([(180.0, gammas[0]), (360.0, gammas[1])])


def test_a_gamma_beyond_the_end_value_is_refused():
    growth = craft.Growth(1.45, 0.32)
    for gamma in (1.45, 1.5, -0.1, math.nan):
        with pytest.raises(Refused, match="all that this plate and developer give"):
            growth.time_for(gamma)
    with pytest.raises(Refused):
        growth.gamma_at(-1)
    with pytest.raises(Refused):
        craft.Growth(0, 0.3)
    with pytest.raises(Refused):
        craft.Growth(1.4, math.inf)


def test_a_papers_range_and_a_subjects_give_the_gamma():
    assert craft.gamma_for_ranges(1.05, 1.5) == pytest.approx(0.7)
    for ranges in ((0, 1), (1, 0), (5, 1), (4, 0.5)):
        with pytest.raises(Refused):
            craft.gamma_for_ranges(*ranges)


@pytest.mark.parametrize(
    ("text", "k_per_min"),
    [
        ("0.32ln/min", 0.32),
        ("0.32 ln per min", 0.32),
        ("0.400log10/min", 0.4 * math.log(10)),
        ("0.4log/min", 0.4 * math.log(10)),
        ("0.005ln/s", 0.3),
    ],
)
def test_a_constant_is_read_with_its_base(text, k_per_min):
    assert craft.read_growth_constant(text, where="k") == pytest.approx(k_per_min)


@pytest.mark.parametrize("text", ["0.32", "0.32/min", "ln/min", "x ln/min", "-1ln/min", "0.3ln/h"])
def test_a_constant_that_does_not_say_its_base_is_refused(text):
    with pytest.raises(Refused, match="k: "):
        craft.read_growth_constant(text, where="k")
