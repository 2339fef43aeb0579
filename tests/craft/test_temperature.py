"""Development goes quicker in a warm bath, by a known law, tested in a known range."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft import temperature as craft
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Development

LN = math.log(2.4) / 10
ROWS = ((16.0, 510.0), (18.0, 435.0), (20.0, 360.0), (22.0, 300.0), (24.0, 252.0))
RATES: list[craft.CoefficientRate | craft.TableRate] = [
    craft.CoefficientRate(LN, 20.0),
    craft.TableRate(ROWS, 20.0),
]
inside = st.floats(min_value=16, max_value=24)


@pytest.mark.parametrize("rate", RATES)
def test_the_rate_is_one_at_the_reference(rate):
    assert rate.rate(20.0) == 1.0


@pytest.mark.parametrize("rate", RATES)
@settings(max_examples=50)
@given(cool=inside, warm=inside)
def test_a_warmer_bath_is_never_slower(rate, cool, warm):
    cool, warm = sorted((cool, warm))
    assert rate.rate(cool) <= rate.rate(warm) * (1 + 1e-12)


@pytest.mark.parametrize("rate", RATES)
@settings(max_examples=50)
@given(bath=st.floats(min_value=16.01, max_value=23.99))
def test_the_slope_is_the_derivative_of_ln_rate(rate, bath):
    numeric = math.log(rate.rate(bath + 1e-5) / rate.rate(bath - 1e-5)) / 2e-5
    assert rate.ln_per_K(bath) == pytest.approx(numeric, rel=1e-3, abs=1e-6)


@pytest.mark.parametrize("rate", RATES)
@settings(max_examples=50)
@given(time_s=st.floats(min_value=0, max_value=1e5), one=inside, other=inside)
def test_a_time_goes_to_another_temperature_and_back(rate, time_s, one, other):
    there = craft.time_at(rate, time_s, one, other)
    assert craft.time_at(rate, there, other, one) == pytest.approx(time_s, rel=1e-12)


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize("bath", [10.0, 35.0, math.nan, math.inf])
def test_outside_its_range_a_rate_refuses(rate, bath):
    with pytest.raises(Refused, match="outside the range"):
        rate.rate(bath)
    with pytest.raises(Refused, match="outside the range"):
        rate.ln_per_K(bath)


def test_the_refusal_names_the_range():
    with pytest.raises(Refused) as refused:
        RATES[0].rate(35.0)
    assert (
        str(refused.value)
        == "bath: 35 degC is outside the range the rate is known for; allowed: 13 to 25 degC"
    )


@pytest.mark.parametrize("rate", RATES)
def test_a_running_development_goes_on_by_the_same_law(rate):
    """Outside the range ln rate goes on straight with the slope of the nearer end."""
    for edge_degC, bath_degC in ((rate.high_degC, 35.0), (rate.low_degC, -5.0)):
        slope = rate.ln_per_K(edge_degC)
        by_law = rate.rate(edge_degC) * math.exp(slope * (bath_degC - edge_degC))
        assert craft.running_rate(rate, bath_degC) == pytest.approx(by_law, rel=1e-12)
        assert craft.outside_K(rate, bath_degC) == bath_degC - edge_degC
    assert craft.running_rate(rate, 18.5) == rate.rate(18.5)
    assert craft.outside_K(rate, 18.5) == 0.0
    with pytest.raises(Refused):
        craft.running_rate(rate, math.nan)


@pytest.mark.parametrize("rate", RATES)
def test_a_plan_of_before_holds_the_edges_rate(rate):
    held = replace(rate, beyond="held")
    assert craft.running_rate(held, 35.0) == rate.rate(rate.high_degC)
    assert craft.running_rate(held, -5.0) == rate.rate(rate.low_degC)


@pytest.mark.parametrize("rate", RATES)
def test_no_reading_stops_a_timer_or_sends_it_off(rate):
    assert craft.running_rate(rate, 500.0) == pytest.approx(1000.0)
    assert craft.running_rate(rate, -300.0) == pytest.approx(0.001)


def test_the_laws_doubt_grows_with_the_distance_and_the_coefficients_own():
    sure, unsure = RATES[0], replace(RATES[0], doubt_share=0.25)
    assert craft.ln_rate_doubt(sure, 20.0) == craft.ln_rate_doubt(unsure, 20.0) == 0.0
    assert craft.ln_rate_doubt(sure, 24.0) == 0.0
    assert craft.ln_rate_doubt(unsure, 24.0) == pytest.approx(0.25 * LN * 4)
    # outside, half the slope for each kelvin beyond the end at 25 degC comes to it
    assert craft.ln_rate_doubt(sure, 27.0) == pytest.approx(0.5 * LN * 2)
    assert craft.ln_rate_doubt(unsure, 27.0) == pytest.approx(0.25 * LN * 7 + 0.5 * LN * 2)
    assert craft.ln_rate_doubt(unsure, 10.0) == pytest.approx(-0.25 * LN * 10 - 0.5 * LN * 3)


def test_a_times_doubt_is_the_root_of_the_squares_of_bath_and_law():
    unsure = replace(RATES[0], doubt_share=0.25)
    parts = (LN * 0.5, 0.25 * LN * 4)
    assert craft.time_doubt(unsure, 24.0, 0.5) == pytest.approx(math.hypot(*parts))
    grown = craft.EquivalentDoubt().after(unsure, 24.0, 0.5, 100.0).after(unsure, 16.0, 0.5, 100.0)
    # a thermometer that reads high does so all the time; a wrong coefficient cancels between cold and warm
    assert grown.bath_s == pytest.approx(LN * 0.5 * 200)
    assert grown.law_s == pytest.approx(0.0, abs=1e-9)
    assert grown.total_s == pytest.approx(grown.bath_s)


def test_a_table_gives_its_own_rows_back():
    rate = craft.TableRate(ROWS[::-1], 20.0)
    for bath, time_s in ROWS:
        assert 360.0 / rate.rate(bath) == pytest.approx(time_s, rel=1e-12)


def test_two_rows_of_a_table_are_a_coefficient():
    table = craft.TableRate(((15.0, 480.0), (25.0, 200.0)), 20.0)
    assert table.rate(18.0) == pytest.approx(craft.CoefficientRate(LN, 20.0).rate(18.0), rel=1e-12)


@pytest.mark.parametrize(
    ("points", "said"),
    [
        (((20.0, 360.0),), "two rows"),
        (((18.0, 360.0), (20.0, 360.0)), "each warmer row quicker"),
        (((18.0, 300.0), (20.0, 360.0)), "each warmer row quicker"),
        (((18.0, 400.0), (18.0, 360.0)), "no temperature twice"),
        (((18.0, 400.0), (20.0, 0.0)), "above 0 s"),
        (((18.0, 400.0), (math.nan, 360.0)), "temperature and a time"),
        (((16.0, 400.0), (18.0, 360.0)), "reference temperature 20"),
    ],
)
def test_a_table_that_cannot_be_is_refused(points, said):
    with pytest.raises(Refused, match=said):
        craft.TableRate(points, 20.0)


def test_a_coefficient_that_cannot_be_is_refused():
    with pytest.raises(Refused, match=r"allowed: 0 to 0\.3"):
        craft.CoefficientRate(-0.01, 20.0)
    with pytest.raises(Refused, match="reference temperature 30"):
        craft.CoefficientRate(0.08, 30.0)


def test_a_routines_development_becomes_a_rate():
    by_coefficient = craft.rate_of(Development(360, 20.0, 15.0, 24.0, ln_per_K=LN))
    assert (by_coefficient.low_degC, by_coefficient.high_degC) == (15.0, 24.0)
    by_table = craft.rate_of(Development(360, 20.0, 17.0, 30.0, table=ROWS))
    assert (by_table.low_degC, by_table.high_degC) == (17.0, 24.0)
    narrower = craft.rate_of(Development(360, 20.0, 17.0, 22.5, table=ROWS))
    assert (narrower.low_degC, narrower.high_degC) == (17.0, 22.5)
    for neither_or_both in [Development(360, 20, 15, 24), Development(360, 20, 15, 24, LN, ROWS)]:
        with pytest.raises(Refused, match="either a temperature coefficient or a table"):
            craft.rate_of(neither_or_both)


@pytest.mark.parametrize("rate", RATES)
def test_at_the_reference_equivalent_time_is_time(rate):
    assert craft.equivalent_time(rate, [(0.0, 20.0), (100.0, 20.0), (360.0, 20.0)]) == 360.0


@settings(max_examples=50)
@given(baths=st.lists(st.floats(min_value=5, max_value=35), min_size=2, max_size=40), cut=st.integers(1, 38))
def test_a_trace_cut_in_two_keeps_its_equivalent_time(baths, cut):
    trace = [(10.0 * n, bath) for n, bath in enumerate(baths)]
    cut = min(cut, len(trace) - 1)
    halves = craft.equivalent_time(RATES[1], trace[: cut + 1]) + craft.equivalent_time(RATES[1], trace[cut:])
    assert halves == pytest.approx(craft.equivalent_time(RATES[1], trace), rel=1e-12)


def test_a_trace_that_runs_backwards_is_refused():
    with pytest.raises(Refused, match="do not go backwards"):
        craft.equivalent_time(RATES[0], [(0.0, 20.0), (10.0, 20.0), (9.0, 20.0)])


@pytest.mark.parametrize("rate", RATES)
@settings(max_examples=50)
@given(wanted_s=st.floats(min_value=0, max_value=5000), bath=st.floats(min_value=5, max_value=35))
def test_time_left_does_what_is_wanted(rate, wanted_s, bath):
    left_s = craft.time_left(rate, wanted_s, bath)
    assert craft.equivalent_step(rate, bath, bath, left_s) == pytest.approx(wanted_s, rel=1e-12)


def test_nothing_wanted_leaves_no_time():
    assert craft.time_left(RATES[0], -3.0, 18.0) == 0.0


def test_half_a_degree_is_four_per_cent():
    """DESIGN section 11: a probe good to 0.5 degC at a coefficient of 2.4."""
    assert craft.doubt(RATES[0], 18.0, 0.5) == pytest.approx(0.04, abs=0.005)
    assert craft.doubt(RATES[0], 40.0, 0.5) == craft.doubt(RATES[0], 25.0, 0.5)
