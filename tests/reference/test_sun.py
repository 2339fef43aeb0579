"""The sun's place against a standard's worked example and a reference library."""

from datetime import UTC, datetime, timedelta

import pandas as pd
import pvlib
import pytest

from firmware_py.craft.sun import equation_of_time_min, sun_altitude_deg


def test_the_worked_example_of_reda_and_andreas():
    """NREL/TP-560-34302 (seen): zenith 50.11162 degrees. Tolerance: twice what was measured."""
    when = datetime(2003, 10, 17, 19, 30, 30, tzinfo=UTC)
    assert 90 - sun_altitude_deg(when, 39.742476, -105.1786) == pytest.approx(50.11162, abs=0.006)


@pytest.mark.parametrize(
    ("latitude", "longitude"), [(56.05, -2.72), (-33.9, 18.4), (0.0, 179.5), (78.2, 15.6)]
)
def test_altitudes_over_a_century_against_pvlib(latitude, longitude):
    """Tolerance 0.03 degrees: a hundredth of a stop at 5 degrees. Below 1 refractions differ."""
    times = [datetime(1950, 1, 1, tzinfo=UTC) + timedelta(days=97.31 * step) for step in range(375)]
    index = pd.DatetimeIndex(times)
    found = pvlib.solarposition.spa_python(index, latitude, longitude)
    reference = found["apparent_elevation"]
    for when, altitude in zip(times, reference, strict=True):
        if altitude > 1:
            assert sun_altitude_deg(when, latitude, longitude) == pytest.approx(altitude, abs=0.03)


def test_the_equation_of_time_against_pvlib():
    """Tolerance 4 s: what was measured and a little; a sundial is read to a minute."""
    times = [datetime(2026, 1, 1, tzinfo=UTC) + timedelta(days=day) for day in range(0, 365, 5)]
    reference = pvlib.solarposition.spa_python(pd.DatetimeIndex(times), 0, 0)["equation_of_time"]
    for when, minutes in zip(times, reference, strict=True):
        assert equation_of_time_min(when) == pytest.approx(minutes, abs=4 / 60)
