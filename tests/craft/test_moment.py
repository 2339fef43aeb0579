"""Hours: by a zone's clock or by the sun's, and refused where nobody said which."""

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.moment import Dial, read_day, read_moment
from firmware_py.craft.refusal import Refused
from firmware_py.craft.sun import sun_altitude_deg

noon_utc = datetime(2026, 6, 21, 12, tzinfo=UTC)


@pytest.mark.parametrize(
    "written",
    [
        "2026-06-21T13:00+01:00",
        "2026-06-21T12:00Z",
        "2026-06-21 07:00-05:00",
        "20260621T1300+0100",
        "2026-W25-7T12Z",
    ],
)
def test_an_hour_with_its_offset_is_read(written):
    assert read_moment(written, where="--on") == noon_utc


@pytest.mark.parametrize(
    ("written", "solar"),
    [
        ("2026-06-21T12:00", None),
        ("2026-06-21T12:00+01:00", "mean"),
        ("2026-06-21", None),
        ("2026-06-21", "mean"),
        ("noon", None),
        ("", None),
        ("2026-02-30T12:00Z", None),
        ("1799-12-31T12:00Z", None),
        ("2101-01-01T12:00Z", None),
        ("0001-01-01T00:00+14:00", None),
        ("9999-12-31T23:59-14:00", None),
        ("2026-06-21T12:00Z\x1b", None),
    ],
)
def test_an_hour_that_says_too_little_or_too_much_is_refused(written, solar):
    with pytest.raises(Refused) as refusal:
        read_moment(written, where="--on", solar=solar, longitude_deg=10)
    assert str(refusal.value).startswith("--on: ")
    assert str(refusal.value).isprintable()


def test_mean_solar_time_goes_with_the_longitude():
    assert read_moment(
        "2026-06-21T12:00", where="--on", solar="mean", longitude_deg=-15
    ) == noon_utc + timedelta(hours=1)


@given(st.integers(0, 364), st.floats(-60, 60), st.floats(-179, 179))
def test_the_sun_stands_highest_at_noon_of_its_own_time(day, latitude, longitude):
    noon = read_moment(
        f"{date(2026, 1, 1) + timedelta(days=day)}T12:00",
        where="--on",
        solar="apparent",
        longitude_deg=longitude,
    )
    at_noon, before, after = (
        sun_altitude_deg(noon + timedelta(minutes=minutes), latitude, longitude) for minutes in (0, -20, 20)
    )
    assert at_noon >= max(before, after)
    # The sun's own drift north or south is all that is left: within 0.02 degrees the same on both sides.
    assert before == pytest.approx(after, abs=0.02)


def test_a_day_takes_its_offset_from_the_hour_from_the_option_or_from_the_sun():
    assert read_day("2026-06-21T09:00+01:00", where="--on")[1].name == "UTC+0100"
    day, dial = read_day("2026-06-21", where="--on", offset="+01:00")
    assert (day, dial.utc(datetime.combine(day, time(13)))) == (date(2026, 6, 21), noon_utc)
    assert read_day("2026-06-21", where="--on", offset="Z")[1].name == "UTC"
    assert read_day("2026-06-21", where="--on", offset="-0530")[1].name == "UTC-0530"
    assert read_day("2026-06-21", where="--on", solar="apparent")[1].name == "local apparent solar time"


@pytest.mark.parametrize(
    ("written", "offset", "solar"),
    [
        ("2026-06-21", "", None),
        ("2026-06-21", "1", None),
        ("2026-06-21", "+25:00", None),
        ("2026-06-21T09:00+01:00", "+01:00", None),
        ("2026-06-21", "+01:00", "mean"),
    ],
)
def test_a_day_whose_hours_nobody_named_or_two_did_is_refused(written, offset, solar):
    with pytest.raises(Refused, match="--on"):
        read_day(written, where="--on", offset=offset, solar=solar)


def test_a_dial_of_a_zone_and_back():
    assert Dial(UTC).utc(datetime.combine(date(2026, 6, 21), time(12))) == noon_utc


@given(st.integers(0, 364 * 24 * 60), st.floats(-180, 180), st.sampled_from(["zone", "mean", "apparent"]))
def test_what_a_dial_shows_reads_back(minute, longitude, kind):
    dial = Dial(UTC) if kind == "zone" else Dial(solar=kind, longitude_deg=longitude)
    hour = datetime.combine(date(2026, 1, 1), time()) + timedelta(minutes=minute)
    assert abs(dial.shows(dial.utc(hour)) - hour) < timedelta(seconds=1)


@given(st.text(max_size=40) | st.text("0123456789T:+-.ZW ", max_size=26))
def test_hostile_text_gives_an_hour_or_one_printable_line(text):
    for solar in (None, "mean", "apparent"):
        try:
            found: object = read_moment(text, where="--on", solar=solar).tzinfo
        except Refused as refused:
            found = str(refused)
        assert found is UTC or str(found).isprintable()
