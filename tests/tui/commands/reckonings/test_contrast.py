"""``embertray reckon contrast`` fits, finds times, reads a curve and advises, or says what is missing."""

from __future__ import annotations

import math

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon

PAIR = ("--point", "3min:0.8948", "--point", "6min:1.2374")
TABLET = "0.10,0.11,0.13,0.18,0.27,0.39,0.53,0.68,0.83,0.98,1.13,1.27,1.38,1.46"


def test_two_plates_give_the_growth_and_the_time():
    values = reckon("contrast", *PAIR, "--want", "1.1").values
    assert values["gamma_inf"] == pytest.approx(1.450, abs=0.0005)
    assert values["k_per_min"] == pytest.approx(0.3200, abs=0.00005)
    assert values["time_s"] == pytest.approx(-60 * math.log(1 - 1.1 / 1.45) / 0.32, abs=0.1)


def test_points_that_hardly_tell_say_so():
    answer = reckon("contrast", "--point", "3min:0.89", "--point", "3min30s:0.98")
    assert "hardly tell" in answer.lines[-1]


def test_a_point_may_be_written_by_the_clock():
    clock = reckon("contrast", "--point", "3:00:0.8948", "--point", "6:00:1.2374")
    assert clock.values["k_per_min"] == reckon("contrast", *PAIR).values["k_per_min"]


@pytest.mark.parametrize("subject", ["5 stops", "1.50515", "5stops"])
def test_paper_and_subject_give_the_gamma(subject):
    values = reckon("contrast", *PAIR, "--paper", "1.05", "--subject", subject).values
    assert values["want_gamma"] == pytest.approx(1.05 / 1.50515, rel=1e-5)


def test_a_known_growth_gives_the_gamma_of_a_time():
    values = reckon("contrast", "--gamma-inf", "2.12", "--k", "0.400log10/min", "--time", "2.5min").values
    assert values["gamma"] == pytest.approx(1.908, abs=0.0005)


def test_a_tablet_gives_gamma_inertia_and_mean_gradient():
    values = reckon("contrast", "--densities", TABLET, "--increment", "0.15", "--first", "-2.1").values
    assert values["gamma"] == pytest.approx(0.99, abs=0.01)
    assert values["inertia_log10"] == pytest.approx(-1.64, abs=0.01)
    assert values["mean_gradient"] == pytest.approx(0.90, abs=0.01)


def test_a_short_curve_has_no_mean_gradient():
    answer = reckon("contrast", "--densities", "0.1,0.2,0.35,0.5,0.65", "--increment", "0.15")
    assert answer.values["mean_gradient"] is None
    assert "no mean gradient" in answer.lines[-1]


def test_advice_by_eye_and_by_measure():
    by_eye = reckon("contrast", "--after", "thin, hard", "--time", "6min")
    assert by_eye.values["exposure_stops"] == 1
    assert by_eye.values["equivalent_s"] == 270
    known = reckon("contrast", "--after", "flat", "--time", "3min", *PAIR)
    assert known.values["change_s"] == pytest.approx(97, abs=1)
    words = ("--got", "1.40", "--paper", "1.05", "--shadow", "0.10", "--time", "6min")
    by_measure = reckon("contrast", *PAIR, *words)
    assert by_measure.values["equivalent_s"] == pytest.approx(192, abs=1)
    assert by_measure.values["exposure_stops"] == pytest.approx(0.27, abs=0.01)


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ((), "not enough to reckon with"),
        (("--want", "1.1"), "not enough to reckon with"),
        (("--point", "3min", "--point", "6min:1.2"), "--point"),
        (("--point", "3:0.8948", "--point", "6:1.2374"), "--point"),
        ((*PAIR, "--want", "1.5"), "less than 1.45"),
        ((*PAIR, "--subject", "5 stops"), "--paper"),
        ((*PAIR, "--paper", "1.05", "--subject", "5 stoppings"), "--subject"),
        (("--gamma-inf", "1.4", "--want", "1"), "--gamma-inf and --k"),
        (("--gamma-inf", "1.4", "--k", "0.3", "--want", "1"), "--k"),
        (("--densities", TABLET), "--increment"),
        (("--densities", "0.1,x", "--increment", "0.15"), "--densities"),
        (("--after", "hard"), "--time"),
        (("--after", "hard,flat", "--time", "6min"), "--after"),
        (("--after", "pretty", "--time", "6min"), "--after"),
        (("--got", "1.4", "--time", "6min", "--paper", "1.05"), "--got"),
    ],
)
def test_what_is_missing_or_wrong_is_named(words, place):
    with pytest.raises(Refused, match=place):
        reckon("contrast", *words)
