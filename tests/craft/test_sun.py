"""The sun: its limits and its symmetries. (Its place against a standard: tests/reference.)"""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.craft.sun import equation_of_time_min, sun_altitude_deg

days = st.integers(0, 300 * 365).map(lambda day: datetime(1800, 1, 2, tzinfo=UTC) + timedelta(days=day))
any_time = st.tuples(days, st.integers(0, 86399)).map(lambda when: when[0] + timedelta(seconds=when[1]))


@given(any_time, st.floats(-89, 89), st.floats(-180, 180))
def test_the_altitude_is_always_one(when, latitude, longitude):
    assert -90 <= sun_altitude_deg(when, latitude, longitude) <= 90


@given(any_time, st.floats(-80, 80))
def test_once_round_the_globe_is_the_same_place(when, latitude):
    there = sun_altitude_deg(when, latitude, -180)
    assert there == pytest.approx(sun_altitude_deg(when, latitude, 180), abs=1e-6)


@given(any_time)
def test_a_sundial_is_never_far_from_the_clock(when):
    assert abs(equation_of_time_min(when)) < 17


@pytest.mark.parametrize(
    ("when", "latitude", "longitude"),
    [
        (datetime(2026, 6, 21, 12), 56, 0),  # noqa: DTZ001 - the missing offset is the point
        (datetime(1799, 6, 21, 12, tzinfo=UTC), 56, 0),
        (datetime(2101, 6, 21, 12, tzinfo=UTC), 56, 0),
        (datetime(2026, 6, 21, 12, tzinfo=UTC), 91, 0),
        (datetime(2026, 6, 21, 12, tzinfo=UTC), 56, 181),
        (datetime(2026, 6, 21, 12, tzinfo=UTC), float("nan"), 0),
    ],
)
def test_what_the_sun_equations_do_not_cover_is_refused(when, latitude, longitude):
    with pytest.raises(Refused):
        sun_altitude_deg(when, latitude, longitude)
