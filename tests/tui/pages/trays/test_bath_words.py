"""Nobody may take a guess for a reading."""

from __future__ import annotations

import pytest

from tests.tui.sample_bench import NOW_S, bath, lane
from tui.pages.trays.bath_words import bath_words, is_doubtful, outside_words

OLD = {"read_at_s": NOW_S - 42.0}
NO_TREND = {"trend_K_per_min": None}


@pytest.mark.parametrize(
    ("changes", "words", "doubtful"),
    [
        ({}, "Bath 17.4 °C ±0.5, read 0:01 ago, falling 0.1 K/min", False),
        ({"trend_K_per_min": 0.01}, "Bath 17.4 °C ±0.5, read 0:01 ago, steady", False),
        (NO_TREND, "Bath 17.4 °C ±0.5, read 0:01 ago", False),
        (OLD, "Bath WAS 17.4 °C ±0.5, read 0:42 ago", True),
        ({"source": "trend", **OLD}, "Bath about 17.4 °C ±0.5 BY TREND, read 0:42 ago", True),
        ({"source": "hand", **OLD, **NO_TREND}, "Bath 17.4 °C ±0.5 BY HAND, 0:42 ago", False),
        ({"source": "trace", **NO_TREND}, "Bath 17.4 °C ±0.5 of the trace, read 0:01 ago", False),
        ({"source": "assumed", "tolerance_K": 3.0}, "Bath 17.4 °C ±3 only ASSUMED: no reading", True),
    ],
)
def test_the_line_says_where_the_value_comes_from(changes, words, doubtful):
    sample = bath(**changes)
    assert bath_words(sample, NOW_S) == words
    assert is_doubtful(sample, NOW_S) == doubtful


def test_every_line_fits_beside_the_steps_at_80_columns():
    for source in ("probe", "hand", "trend", "trace", "assumed"):
        sample = bath(source=source, read_at_s=NOW_S - 5999.0, bath_degC=-14.2, trend_K_per_min=-0.2)
        assert len(bath_words(sample, NOW_S)) <= 56


def test_a_bath_outside_the_tested_range_is_said_to_be_with_the_figure():
    cold = lane(bath=bath(bath_degC=-14.2), tested=(8.0, 20.0), outside_K=-22.2)
    assert outside_words(cold) == "Bath -14.2 °C ±0.5 OUTSIDE THE TESTED RANGE by 22.2 K"
    assert len(outside_words(cold)) <= 56
    assert outside_words(lane(bath=bath(bath_degC=20.04), tested=(8.0, 20.0), outside_K=0.04)) == ""
