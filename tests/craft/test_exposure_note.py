"""What was written down of an exposure is read as it was meant, or refused with what is allowed."""

from __future__ import annotations

import pytest

from firmware_py.craft.exposure_note import (
    find_place,
    read_extension_factor,
    read_filter_factor,
    read_given_s,
    read_light,
    read_taken,
)
from firmware_py.craft.refusal import Refused


@pytest.mark.parametrize(
    ("text", "day", "offset", "taken"),
    [
        ("", "", "", ""),
        ("2026-06-21T14:10+02:00", "", "", "2026-06-21T14:10+02:00"),
        ("2026-06-21T12:10Z", "2026-06-20", "", "2026-06-21T12:10+00:00"),
        ("2026-06-21 14:10", "", "+02:00", "2026-06-21T14:10+02:00"),
        ("9:05", "2026-06-21", "+02:00", "2026-06-21T09:05+02:00"),
        ("14.10", "2026-06-21", "Z", "2026-06-21T14:10+00:00"),
    ],
)
def test_when_it_was_taken(text, day, offset, taken):
    assert read_taken(text, where="when", day=day, offset=offset) == taken


@pytest.mark.parametrize(
    ("text", "day", "offset", "words"),
    [
        ("14:10", "", "+02:00", "is no day"),
        ("14:10", "21 June", "+02:00", "is no date"),
        ("14:10", "2026-06-21", "", "no offset"),
        ("14:10", "2026-06-21", "Paris", "is not an offset"),
        ("2026-06-21", "", "", "has no hour"),
        ("after lunch", "2026-06-21", "Z", "is not a date"),
        ("1492-10-12T10:00Z", "", "", "1800 to 2100"),
    ],
)
def test_an_hour_that_could_be_another_is_refused(text, day, offset, words):
    with pytest.raises(Refused, match=words):
        read_taken(text, where="when", day=day, offset=offset)


@pytest.mark.parametrize(
    ("text", "time_s"),
    [
        ("2", 2.0),
        ("1/2", 0.5),
        ("1/25 s", 0.04),
        ("1 1/2", 1.5),
        ("1:20", 80.0),
        ("2 min", 120.0),
        ("90 s", 90.0),
    ],
)
def test_the_time_given(text, time_s):
    assert read_given_s(text, where="time") == pytest.approx(time_s)


@pytest.mark.parametrize("text", ["", "0", "-2", "8 days", "two", "f/16"])
def test_what_is_no_exposure_is_refused(text):
    with pytest.raises(Refused):
        read_given_s(text, where="time")


@pytest.mark.parametrize(
    ("text", "factor"),
    [
        ("", 1.0),
        ("-", 1.0),
        ("none", 1.0),
        ("1.6", 1.6),
        ("x1.6", 1.6),
        ("300/210", 2.0408),
        ("12 in/8 in", 2.25),
    ],
)
def test_the_extension_is_a_factor_or_the_draw_over_the_focal_length(text, factor):
    """Twelve inches of draw on eight of focus are two and a quarter times: (12 / 8) squared, by hand."""
    assert read_extension_factor(text, where="extension") == pytest.approx(factor, abs=1e-4)


@pytest.mark.parametrize("text", ["0.5", "210/300", "long", "300"])
def test_an_extension_that_is_neither_is_refused(text):
    with pytest.raises(Refused):
        read_extension_factor(text, where="extension")


@pytest.mark.parametrize(
    ("text", "factor"),
    [("", 1.0), ("none", 1.0), ("yellow 4", 4.0), ("x4", 4.0), ("K2 x 2.5", 2.5), ("8", 8.0)],
)
def test_a_filter_ends_with_its_factor(text, factor):
    assert read_filter_factor(text, where="filter") == factor


@pytest.mark.parametrize("text", ["yellow", "yellow 0.5", "yellow 4 old"])
def test_a_filter_without_one_is_refused(text):
    with pytest.raises(Refused):
        read_filter_factor(text, where="filter")


@pytest.mark.parametrize(
    ("text", "light"),
    [("", ("", "")), ("hazy", ("hazy", "")), ("Side, hazy", ("hazy", "side")), ("shade", ("", "shade"))],
)
def test_the_light_is_a_sky_and_a_lighting_in_any_order(text, light):
    assert read_light(text, where="light") == light


@pytest.mark.parametrize("text", ["pink", "hazy clear", "front back"])
def test_other_light_is_refused_with_the_words_there_are(text):
    with pytest.raises(Refused, match=r"white-clouds.*shade"):
        read_light(text, where="light")


def test_a_place_is_a_position_or_a_name():
    found = find_place("59.8N 5.2E")
    assert found is not None
    assert (found.latitude_deg, found.longitude_deg) == (59.8, 5.2)
    assert find_place("Kvarnvik mole") is None


def test_an_hour_may_be_said_and_one_that_can_be_two_asks():
    """Issue 15, number 19: 4pm was refused."""
    said = {"where": "when", "day": "2026-06-21", "offset": "+02:00"}
    assert read_taken("4pm", **said) == "2026-06-21T16:00+02:00"
    assert read_taken("16", **said) == "2026-06-21T16:00+02:00"
    with pytest.raises(Refused, match="4:00 or 16:00"):
        read_taken("4", **said)
