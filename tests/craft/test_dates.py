"""Dates and hours as people say them, counted from a moment that is given; two readings are asked about."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import UTC, date, datetime, time, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.dates import Ambiguous, read_date, read_hour, read_when
from firmware_py.craft.refusal import Refused

# An evening of years ago: whoever reads the clock on the wall gets the lines below wrong.
NOW = datetime(2019, 11, 30, 19, 30, tzinfo=timezone(timedelta(hours=1)))


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("2019-12-24", date(2019, 12, 24)),
        ("20191224", date(2019, 12, 24)),
        ("today", date(2019, 11, 30)),
        ("tomorrow", date(2019, 12, 1)),
        ("Yesterday", date(2019, 11, 29)),
        ("day before yesterday", date(2019, 11, 28)),
        ("2 days ago", date(2019, 11, 28)),
        ("in 3 days", date(2019, 12, 3)),
        ("29 Nov", date(2019, 11, 29)),
        ("Nov 29", date(2019, 11, 29)),
        ("29th of November 2018", date(2018, 11, 29)),
        ("29.11.2018", date(2018, 11, 29)),
        ("13/4", date(2019, 4, 13)),
        ("4/13", date(2019, 4, 13)),
        ("5/5", date(2019, 5, 5)),
        ("  21   June  ", date(2019, 6, 21)),
    ],
)
def test_a_date_is_read_as_it_is_said(said, meant):
    assert read_date(said, now=NOW, where="date") == meant


def test_a_date_that_is_two_days_asks_and_names_both():
    with pytest.raises(Ambiguous) as asked:
        read_date("03/04", now=NOW, where="date")
    said = 'date: "03/04" can be 3 April 2019 or 4 March 2019; allowed: 2019-04-03 or 2019-03-04'
    assert str(asked.value) == said


@pytest.mark.parametrize(
    "said", ["", "soon", "Dec", "5", "2026", "30 Feb", "99/99", "2019-02-30", "1 May 1700", "x" * 90]
)
def test_what_is_no_date_is_refused_in_one_line(said):
    with pytest.raises(Refused) as refused:
        read_date(said, now=NOW, where="date")
    assert str(refused.value).startswith("date: ")


def test_without_a_now_only_written_dates_are_read():
    assert read_date("2019-12-24", now=None, where="date") == date(2019, 12, 24)
    with pytest.raises(Refused):
        read_date("tomorrow", now=None, where="date")


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("14:10", time(14, 10)),
        ("4:30", time(4, 30)),
        ("4pm", time(16)),
        ("4 p.m.", time(16)),
        ("4.30 pm", time(16, 30)),
        ("12 am", time(0)),
        ("12pm", time(12)),
        ("16", time(16)),
        ("0", time(0)),
        ("12", time(12)),
        ("16h30", time(16, 30)),
        ("at 7 am", time(7)),
        ("noon", time(12)),
        ("Midnight", time(0)),
    ],
)
def test_an_hour_is_read_as_it_is_said(said, meant):
    assert read_hour(said, where="hour") == meant


def test_a_bare_hour_of_the_morning_or_the_afternoon_asks_and_names_both():
    with pytest.raises(Ambiguous) as asked:
        read_hour("4", where="hour")
    assert str(asked.value) == 'hour: "4" can be 4:00 or 16:00; allowed: "4 am" or "4 pm"'


@pytest.mark.parametrize("said", ["", "24", "13 pm", "0 am", "25:00", "4:75", "later", "4 pm 30"])
def test_what_is_no_hour_is_refused(said):
    with pytest.raises(Refused):
        read_hour(said, where="hour")


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("tomorrow 4 pm", "2019-12-01T16:00:00+01:00"),
        ("29 Nov at 16:30", "2019-11-29T16:30:00+01:00"),
        ("29 Nov 2018", "2018-11-29T00:00:00+01:00"),
        ("yesterday noon", "2019-11-29T12:00:00+01:00"),
        ("4pm", "2019-11-30T16:00:00+01:00"),
        ("2019-12-24", "2019-12-24T00:00:00+01:00"),
        ("2019-12-24T10:00Z", "2019-12-24T10:00:00+00:00"),
    ],
)
def test_a_date_and_an_hour_are_read_together(said, meant):
    assert read_when(said, now=NOW, where="when").isoformat() == meant


@given(st.text(max_size=70) | st.text("0123456789/:.- apmAPMTZtomorrow", max_size=20))
@settings(max_examples=60, deadline=None)
def test_hostile_text_gives_a_moment_or_one_printable_line(text):
    try:
        found: object = read_when(text, now=NOW.astimezone(UTC), where="when").year
    except Refused as refused:
        found = str(refused)
    assert isinstance(found, int) or str(found).isprintable()


def test_the_machines_own_zone_has_no_say():
    """A zone told by its rule, which the library refuses, once left the Daylight page without an answer."""
    code = (
        "from datetime import UTC, datetime\n"
        "from firmware_py.craft.dates import load, read_date\n"
        "load()\n"
        "print(read_date('tomorrow', now=datetime(2026, 6, 1, 12, tzinfo=UTC), where='date'))"
    )
    own = {**os.environ, "TZ": "<+02>-2"}
    told = subprocess.run([sys.executable, "-c", code], env=own, capture_output=True, text=True, check=False)
    assert (told.stdout.strip(), told.stderr) == ("2026-06-02", "")
