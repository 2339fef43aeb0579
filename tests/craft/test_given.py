"""What was given beside what daylight calls for."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from firmware_py.craft.given import Given, against_daylight
from firmware_py.craft.place import Place
from firmware_py.craft.refusal import Refused

# The sun is near 45 degrees high at noon of an equinox at 45 degrees north: the anchor of a plate's index.
NOON = Given(
    emulsion="blue",
    index=2.0,
    taken=datetime(2026, 3, 20, 12, 7, tzinfo=UTC),
    place=Place(45.0, 0.0),
    f_number=16.0,
    time_s=0.5,
)


def test_at_the_anchor_one_over_the_index_at_f16_is_right():
    """f/16 at 1/speed in bright sun (US Army course SS0508); the sun stood at 45.0 degrees then."""
    came = against_daylight(NOON)
    assert came.altitude_deg == pytest.approx(45.0, abs=0.3)
    assert came.reckoned_s == pytest.approx(0.5, rel=0.02)
    assert came.more_stops == pytest.approx(0.0, abs=0.03)
    assert came.doubt_stops == pytest.approx(0.42, abs=0.02)


@pytest.mark.parametrize(
    ("change", "more_stops"),
    [
        ({"time_s": 1.0}, 1.0),
        ({"time_s": 0.125}, -2.0),
        ({"f_number": 32.0}, -2.0),
        ({"factor": 4.0}, -2.0),
        ({"index": 4.0}, 1.0),
    ],
)
def test_twice_the_time_is_a_stop_more(change, more_stops):
    """By hand: a stop is a doubling, and time goes with the square of the f-number."""
    more = against_daylight(replace(NOON, **change)).more_stops
    assert more == pytest.approx(against_daylight(NOON).more_stops + more_stops)


def test_twilight_is_refused_and_not_reckoned():
    with pytest.raises(Refused, match="twilight is not reckoned"):
        against_daylight(replace(NOON, taken=datetime(2026, 3, 20, 22, 0, tzinfo=UTC)))
