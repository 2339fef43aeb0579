"""``embertray reckon lamp`` finds the lag and the on-times, or says why not."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon


def test_the_lag_is_found_and_put_on_an_exposure():
    answer = reckon("lamp", "--long", "5.55s", "--short", "0.6s", "--starts", "10", "--effective", "2s")
    assert answer.values["lag_s"] == pytest.approx(0.05)
    assert answer.values["on_s"] == pytest.approx(2.05)
    assert answer.values["told_from_none"] is True


def test_a_test_too_coarse_says_how_to_make_it_finer():
    answer = reckon("lamp", "--long", "8s", "--short", "1.03s", "--starts", "8")
    assert answer.values["told_from_none"] is False
    assert "shorter exposures" in answer.lines[-1]


def test_a_broken_exposure_is_completed():
    answer = reckon("lamp", "--lag", "0.08s", "--effective", "8s", "--given", "3.2s", "--given", "1.08s")
    assert answer.values["given_s"] == pytest.approx(4.12)
    assert answer.values["on_s"] == pytest.approx(8.0 - 4.12 + 0.08)


def test_half_cycles_are_counted_with_their_error():
    answer = reckon("lamp", "--lag", "0.074s", "--effective", "2s", "--mains", "50")
    assert answer.values["half_cycles"] == 207
    assert answer.values["rounding_error_s"] == pytest.approx(-0.004)
    assert answer.values["rounding_error_stops"] == pytest.approx(-0.00289, abs=1e-5)


def test_a_lag_below_none_is_an_afterglow():
    assert reckon("lamp", "--lag=-0.01s", "--effective", "2s").values["on_s"] == pytest.approx(1.99)


def test_twice_the_distance_takes_four_times_as_long():
    answer = reckon("lamp", "--time", "45s", "--from-distance", "12in", "--to-distance", "24in")
    assert answer.values["time_s"] == pytest.approx(180.0)


def test_less_voltage_is_less_light():
    answer = reckon("lamp", "--voltage", "0.95")
    assert answer.values["light_ratio"] == pytest.approx(0.84, abs=0.005)


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ((), "not enough"),
        (("--long", "5s"), "half a lag test"),
        (("--long", "5s", "--short", "1s", "--starts", "5", "--lag", "1s"), "half a lag test"),
        (("--long", "5s", "--short", "1s", "--starts", "5.5"), "whole number"),
        (("--long", "1s", "--short", "5s", "--starts", "5"), "lag test"),
        (("--long", "5.55s", "--short", "0.6s", "--starts", "10", "--effective", "0.2s"), "weaker light"),
        (("--lag", "0.08s", "--effective", "0.001s", "--mains", "50"), "no light"),
        (("--time", "45s"), "half a change"),
        (("--time", "45s", "--from-distance", "12 s", "--to-distance", "24in"), "--from-distance"),
        (("--voltage", "0.2"), "voltage"),
    ],
)
def test_what_is_no_lamp_question_is_refused_with_its_place(words, place):
    with pytest.raises(Refused, match=place):
        reckon("lamp", *words)
