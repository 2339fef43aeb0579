"""``embertray reckon temperature`` gives the times that print gives, or says why not."""

from __future__ import annotations

import math

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon

SIX_MINUTES = ("--time", "6min", "--from", "20degC")


@pytest.mark.parametrize(
    ("coefficient", "time_s"),
    [("2.36/10K", 507.5), ("2.0/7K", 535.0), ("0.037log/K", 506.2), ("K25/K15=2.36", 507.5)],
)
def test_six_minutes_at_twenty_are_longer_at_sixteen(coefficient, time_s):
    answer = reckon("temperature", *SIX_MINUTES, "--to", "16degC", "--coefficient", coefficient)
    assert answer.values["time_s"] == pytest.approx(time_s, abs=0.3)


def test_walls_two_appearances_give_the_coefficient():
    answer = reckon("temperature", "--appeared", "70s@8degC", "--appeared", "25s@20degC")
    assert answer.values["log10_per_K"] == pytest.approx(0.0373, abs=0.00005)
    assert answer.values["ratio_per_10K"] == pytest.approx(2.36, abs=0.005)
    assert answer.values["ratio_per_10K_low"] == pytest.approx(2.17, abs=0.01)  # two standard deviations


def test_the_measured_coefficient_is_used_for_the_time():
    words = ("--appeared", "70s@8degC", "--appeared", "25s@20degC", *SIX_MINUTES, "--to", "61 degF")
    answer = reckon("temperature", *words)
    assert answer.values["time_s"] == pytest.approx(360 * 2.3585**0.3889, abs=0.5)
    # by hand: 0.0041 per K of standard uncertainty in 0.0858, twice, over 3.89 K; half a kelvin of the bath
    assert answer.values["uncertain_by_bath_s"] == pytest.approx(0.0429 * 502, abs=0.5)
    assert answer.values["uncertain_by_coefficient_s"] == pytest.approx(2 * 0.00408 * 3.89 * 502, abs=0.5)
    assert answer.values["uncertain_s"] == pytest.approx(
        math.hypot(0.0429, 2 * 0.00408 * 3.89) * 502, abs=0.5
    )


def test_a_coefficient_that_two_close_appearances_hardly_tell_leaves_its_own_doubt():
    """Seen before this was told: ± 31 s where the coefficient alone was known no better than ± 138 s."""
    words = ("--appeared", "50s@18degC", "--appeared", "42s@20.5degC", *SIX_MINUTES, "--to", "14degC")
    answer = reckon("temperature", *words)
    by_bath, by_rate = (answer.values[f"uncertain_by_{part}_s"] for part in ("bath", "coefficient"))
    assert isinstance(by_bath, float)
    assert isinstance(by_rate, float)
    assert by_rate > 2 * by_bath
    assert answer.values["uncertain_s"] == pytest.approx(math.hypot(by_bath, by_rate))
    assert any("by the measured coefficient" in line for line in answer.lines)


def test_the_range_may_be_widened_by_the_call():
    words = (*SIX_MINUTES, "--to", "35degC", "--coefficient", "2.36/10K")
    with pytest.raises(Refused, match="allowed: 13 to 25 degC"):
        reckon("temperature", *words)
    assert reckon("temperature", *words, "--high", "36degC").values["high_degC"] == 36


def test_a_printed_table_is_read_between_its_rows_only():
    rows = ("--row", "8min30s@16degC", "--row", "6min@20degC", "--row", "4min15s@24degC")
    assert reckon("temperature", *rows, "--to", "20degC").values["time_s"] == pytest.approx(360)
    longer = reckon("temperature", *rows, "--time", "12min", "--from", "20degC", "--to", "16degC")
    assert longer.values["time_s"] == pytest.approx(1020)
    with pytest.raises(Refused, match="16 to 24 degC"):
        reckon("temperature", *rows, "--to", "25degC")


def test_a_table_of_times_holds_the_time_that_was_known():
    answer = reckon("temperature", *SIX_MINUTES, "--coefficient", "2.4/10K", "--table")
    rows = answer.values["rows"]
    assert isinstance(rows, list)
    assert len(rows) == 13
    assert {"bath_degC": 20.0, "time_s": 360.0} in rows
    assert "20 °C  6 min" in "\n".join(answer.lines)


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ((), "one way to know"),
        (("--coefficient", "2.4/10K", "--row", "6min@20degC"), "one way to know"),
        (("--coefficient", "2.4"), "--coefficient"),
        (("--coefficient", "2.4/10K", "--to", "16degC"), "--from"),
        (("--coefficient", "2.4/10K", "--from", "20degC", "--to", "16degC"), "--time"),
        (("--coefficient", "2.4/10K", "--time", "6min", "--from", "20degC"), "--to"),
        (("--coefficient", "2.4/10K", "--time", "6", "--from", "20degC", "--to", "16degC"), "--time"),
        (("--coefficient", "2.4/10K", *SIX_MINUTES, "--to", "16 s"), "--to"),
        (("--coefficient", "2.4/10K", *SIX_MINUTES, "--to", "16degC", "--probe", "0.5degC"), "--probe"),
        (("--coefficient", "2.4/10K", *SIX_MINUTES, "--table", "--every", "0.001K"), "--every"),
        (("--appeared", "70s"), "--appeared"),
        (("--appeared", "70s@8degC"), "two or more"),
        (("--row", "6min@20degC", "--to", "20degC"), "two rows"),
    ],
)
def test_what_is_missing_or_wrong_is_named(words, place):
    with pytest.raises(Refused, match=place):
        reckon("temperature", *words)
