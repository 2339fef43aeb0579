"""After a plate: exposure for the shadows, development for the high lights, each with its reason."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.advice import advice_by_eye, advice_by_measure
from firmware_py.craft.contrast import Growth
from firmware_py.craft.refusal import Refused

GROWTH = Growth(1.45, 0.32)


def test_a_plate_that_is_right_changes_nothing():
    advice = advice_by_eye("right", "right", 360)
    assert (advice.equivalent_s, advice.change_s, advice.exposure_stops) == (360, 0, 0)


@pytest.mark.parametrize("growth", [None, GROWTH])
@pytest.mark.parametrize("weight", ["thin", "right", "dense"])
def test_hard_is_developed_shorter_and_flat_longer(growth, weight):
    hard, right, flat = (advice_by_eye(look, weight, 200, growth) for look in ("hard", "right", "flat"))
    assert hard.equivalent_s < right.equivalent_s == 200 < flat.equivalent_s
    assert len({hard.reason, right.reason, flat.reason}) == 3


@pytest.mark.parametrize("contrast", ["hard", "right", "flat"])
def test_thin_is_never_exposed_less_nor_dense_more(contrast):
    assert advice_by_eye(contrast, "thin", 200).exposure_stops >= 0
    assert advice_by_eye(contrast, "dense", 200).exposure_stops <= 0


def test_with_its_growth_known_hard_means_a_fifth_less_gamma():
    advice = advice_by_eye("hard", "right", 360, GROWTH)
    assert GROWTH.gamma_at(advice.equivalent_s) == pytest.approx(0.8 * GROWTH.gamma_at(360))


def test_flat_near_the_end_value_is_refused_not_developed_for_ever():
    with pytest.raises(Refused, match="all that this plate and developer give"):
        advice_by_eye("flat", "right", 900, GROWTH)


@settings(max_examples=50)
@given(got=st.floats(min_value=0.5, max_value=2), wanted=st.floats(min_value=0.5, max_value=2))
def test_the_measured_advice_reaches_the_range(got, wanted):
    time_s = 200
    if GROWTH.gamma_at(time_s) * wanted / got >= 0.99 * GROWTH.gamma_inf:
        return
    advice = advice_by_measure(GROWTH, time_s, got_range=got, wanted_range=wanted)
    ratio = GROWTH.gamma_at(advice.equivalent_s) / GROWTH.gamma_at(time_s)
    assert got * ratio == pytest.approx(wanted)


@settings(max_examples=50)
@given(shadow=st.floats(min_value=0, max_value=0.6))
def test_the_measured_exposure_lifts_the_shadow_to_where_it_is_wanted(shadow):
    advice = advice_by_measure(GROWTH, 360, got_range=1.4, wanted_range=1.05, shadow_over_fog=shadow)
    gamma = GROWTH.gamma_at(advice.equivalent_s)
    lifted = shadow * 0.75 + gamma * advice.exposure_stops * math.log10(2)
    assert lifted == pytest.approx(0.15)
    assert (advice.exposure_stops > 0) == (shadow * 0.75 < 0.15)


def test_the_reason_names_what_was_measured():
    advice = advice_by_measure(GROWTH, 360, got_range=1.4, wanted_range=1.05, shadow_over_fog=0.1)
    assert "0.75 times" in advice.reason
    assert "more exposure" in advice.reason
    same = advice_by_measure(GROWTH, 360, got_range=1.05, wanted_range=1.05, shadow_over_fog=0.15)
    assert "the range is right" in same.reason
    assert "no other exposure" in same.reason


@pytest.mark.parametrize(
    ("refuse", "said"),
    [
        (lambda: advice_by_eye("soft", "thin", 360), "hard, right or flat"),  # type: ignore[arg-type] # careless
        (lambda: advice_by_eye("hard", "thin", 0), "more than 0 s"),
        (lambda: advice_by_measure(GROWTH, 360, got_range=0, wanted_range=1), "got range"),
        (lambda: advice_by_measure(GROWTH, 360, got_range=1, wanted_range=2), "all that this plate"),
        (lambda: advice_by_measure(GROWTH, 360, got_range=1, wanted_range=1, shadow_over_fog=-1), "shadow"),
    ],
)
def test_what_can_not_be_advised_is_refused(refuse, said):
    with pytest.raises(Refused, match=said):
        refuse()


@pytest.mark.parametrize(
    ("contrast", "weight", "way", "stops"),
    [
        # Half way between right (0, 0) and hard (-1, 1/3).
        ("rather hard", "right", -0.5, 1 / 6),
        # Half way between right and thin (0, +1), and hard and thin (-1, +1).
        ("rather hard", "thin", -0.5, 1.0),
        # The middle of four: (0, 0), (1, -1/3), (0, -1), (1, -1).
        ("rather flat", "rather dense", 0.5, (-1 / 3 - 1 - 1) / 4),
    ],
)
def test_rather_asks_for_half_of_it(contrast, weight, way, stops):
    advice = advice_by_eye(contrast, weight, 300)
    assert advice.exposure_stops == pytest.approx(stops)
    ratio = 0.75**-way if way < 0 else 1.35**way
    assert advice.equivalent_s == pytest.approx(300 * ratio)
