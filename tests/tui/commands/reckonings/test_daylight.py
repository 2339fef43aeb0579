"""``embertray daylight``: an exposure, a day's table, and clear words where neither can be."""

import argparse
import json
from datetime import datetime, timedelta, timezone

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.craft.shutter import say_exposure
from tui.cli import main
from tui.commands.reckonings.daylight import add_daylight, run_daylight

PLACE = ("--at", "56.05,-2.72", "--plate", "blue", "--index", "2")
JUNE = ("--on", "2026-06-21T12:00+01:00", "--stop", "f/16")
THERE = PLACE[:2]
NOON = ("--on", "2026-12-21T12:00Z")
DECEMBER = ("--on", "2026-12-21T12:00+00:00", "--stop", "f/16")


@pytest.fixture
def daylight(capsys):
    """Run the command as the command line does and return what it printed."""

    def run(*words):
        parser = argparse.ArgumentParser()
        add_daylight(parser.add_subparsers())
        assert run_daylight(parser.parse_args(["daylight", *words])) == 0
        return capsys.readouterr().out

    return run


@pytest.fixture
def reckoned(daylight):
    return lambda *words: json.loads(daylight(*words, "--json"))


def test_midsummer_noon_is_near_half_a_second_at_index_two(reckoned):
    answer = reckoned(*PLACE, *JUNE, "--sky", "clear")
    assert answer["sun_altitude_deg"] == pytest.approx(54.78, abs=0.05)
    assert answer["time_s"] == pytest.approx(0.436, abs=0.005)
    assert answer["exposure"] == "0.4 s"
    assert answer["shortest_s"] < answer["time_s"] < answer["longest_s"]
    assert (answer["utc"], answer["stop"]) == ("2026-06-21T11:00:00Z", "f/16")


def test_midwinter_needs_about_the_printed_ratio_more(reckoned):
    """The Book of Photography's four times is for 52 N; here 0.75 stop is allowed (tests/reference)."""
    ratio = reckoned(*PLACE, *DECEMBER)["time_s"] / reckoned(*PLACE, *JUNE)["time_s"]
    assert 4 <= ratio <= 4 * 2**0.75


def test_low_sun_costs_a_blue_plate_more(reckoned):
    low = ("--on", "2026-12-21T10:30Z", "--stop", "f/16", "--at", "56.05N 2.72W", "--index", "2")
    times = [
        reckoned(*low, "--plate", plate, "--subject", "upright")["time_s"]
        for plate in ("blue", "ortho", "pan")
    ]
    assert times == sorted(times, reverse=True)
    assert times[0] > 1.4 * times[-1]


def test_solar_time_needs_no_offset(reckoned):
    noon = reckoned(*PLACE, "--on", "2026-06-21T12:00", "--solar", "apparent", "--stop", "f/16")
    assert noon["sun_altitude_deg"] == pytest.approx(90 - 56.05 + 23.44, abs=0.05)


@pytest.mark.parametrize(
    ("words", "times"),
    [
        (("--filter", "4"), 4),
        (("--magnification", "1"), 4),
        (("--bellows", "420 mm", "--focal", "210 mm", "--filter", "2"), 8),
        (("--correction", "1"), 2),
        (("--correction=-1/2",), 2**-0.5),
        (("--sky", "heavy"), 8),
        (("--subject", "foliage"), 2),
    ],
)
def test_everything_that_lengthens_or_shortens(reckoned, words, times):
    bare = reckoned(*PLACE, *JUNE)["time_s"]
    assert reckoned(*PLACE, *JUNE, *words)["time_s"] == pytest.approx(bare * times)


def test_the_stop_may_be_of_an_old_system(reckoned):
    assert reckoned(*PLACE, *JUNE[:2], "--stop", "U.S. 16") == reckoned(*PLACE, *JUNE)


def test_height_comes_from_the_option_or_the_position(reckoned):
    by_option = reckoned(*PLACE, *JUNE, "--height", "800 m")
    by_position = reckoned("--at", "+56.05-002.72+800/", *PLACE[2:], *JUNE)
    assert by_option == by_position
    assert by_option["time_s"] != reckoned(*PLACE, *JUNE)["time_s"]


def test_long_exposures_are_warned_of_or_lengthened(daylight, reckoned):
    bare = reckoned(*PLACE, *DECEMBER)
    assert "--reciprocity" in bare["remarks"][0]
    slack = reckoned(*PLACE, *DECEMBER, "--reciprocity", "0.86")
    assert slack["time_s"] == pytest.approx(bare["time_s"] ** (1 / 0.86))
    assert slack["remarks"] == []


@pytest.mark.parametrize(
    ("plate", "factor", "said"),
    [
        ("blue", "4", "FILTER: a factor of 4 found on another plate is wrong here"),
        ("ortho", "2.5", "FILTER: the factor of 2.5 must be one found on this kind of plate"),
        ("pan", "8", "FILTER: the factor of 8 must be one found on this kind of plate"),
    ],
)
def test_a_filter_factor_does_not_pass_without_a_word(reckoned, plate, factor, said):
    """A blue plate loses nearly all its light to a yellow filter: common practice, no source."""
    words = ("--at", "56.05,-2.72", "--plate", plate, "--index", "2", *JUNE)
    remarks = reckoned(*words, "--filter", factor)["remarks"]
    assert [remark[: len(said)] for remark in remarks if remark.startswith("FILTER")] == [said]
    for unfiltered in (reckoned(*words), reckoned(*words, "--filter", "1")):
        assert not any(remark.startswith("FILTER") for remark in unfiltered["remarks"])


def test_the_longest_exposure_is_that_of_a_plate_that_fails_in_reciprocity(reckoned):
    """Told before: "1 to 1 min 50" beside a remark of 3 min. Beyond 1 s, t to the power of 1/0.86.

    Schwarzschild's exponent 0.86: Schwarzschild 1899.
    """
    bare = reckoned(*PLACE, *DECEMBER)
    metered_s = bare["time_s"] * 2 ** bare["doubt_stops"]
    assert metered_s > 1
    assert bare["longest_s"] == pytest.approx(metered_s ** (1 / 0.86))
    assert bare["shortest_s"] == pytest.approx(bare["time_s"] / 2 ** bare["doubt_stops"])
    # who says how the plate fails gets it counted once, not twice
    known = reckoned(*PLACE, *DECEMBER, "--reciprocity", "0.86")
    assert known["longest_s"] == pytest.approx(known["time_s"] * 2 ** known["doubt_stops"])
    # below a second nothing is added
    short = reckoned(*PLACE, *JUNE, "--stop", "f/8")
    assert short["longest_s"] == pytest.approx(short["time_s"] * 2 ** short["doubt_stops"])


@pytest.mark.parametrize("stop", ["f/16", "f/64"])
def test_the_time_that_the_reciprocity_remark_names_is_within_the_bounds(reckoned, stop):
    answer = reckoned(*PLACE, *DECEMBER[:2], "--stop", stop)
    lengthened_s = answer["time_s"] ** (1 / 0.86)
    assert any(say_exposure(lengthened_s) in remark for remark in answer["remarks"])
    assert answer["shortest_s"] < lengthened_s < answer["longest_s"]


def test_an_index_found_in_winter_is_taken_as_such(reckoned):
    high = reckoned(*PLACE, *JUNE)["time_s"]
    assert reckoned(*PLACE, *JUNE, "--index-sun", "20deg")["time_s"] < high / 2


def test_a_sun_below_five_degrees_is_said_to_be_not_trusted(daylight):
    said = daylight(*PLACE, "--on", "2026-12-21T15:00Z", "--stop", "f/8")
    assert "not to be trusted" in said
    assert "good to 2.0 stop" in said


def test_the_days_table_has_an_hour_a_line_and_a_stop_a_column(daylight):
    lines = daylight(*PLACE, "--on", "2026-06-21", "--offset", "+01:00", "--day").splitlines()
    assert lines[2] == "sun highest at 13:12, 57°"
    assert lines[4].split() == ["hour", "sun", "f/5.6", "f/8", "f/11", "f/16", "f/22", "f/32", "f/45", "f/64"]
    hours = [line for line in lines if line[:1] in {"0", "1", "2"} and line[2:3] == ":"]
    assert [line[:5] for line in hours] == [f"{hour:02}:00" for hour in range(5, 22)]
    assert [line[12:13] for line in hours] == ["*"] + [" "] * 16
    assert max(map(len, lines)) <= 80
    assert any("not to be trusted" in line for line in lines)


def test_the_days_table_as_json_agrees_with_the_single_exposure(reckoned):
    day = reckoned(*PLACE, "--on", "2026-06-21T00:00+01:00", "--day")
    noon = next(hour for hour in day["hours"] if hour["hour"] == "12:00")
    f_16 = day["stops"].index("f/16")
    assert noon["times_s"][f_16] == pytest.approx(reckoned(*PLACE, *JUNE)["time_s"])
    assert not day["hours"][0]["trusted"]
    assert day["hours_by"] == "UTC+0100"


def test_the_days_table_in_half_stops_and_with_one_stop(reckoned):
    half = (*PLACE, "--on", "2026-06-21", "--solar", "mean", "--day", "--half-stops")
    assert reckoned(*half, "--widest", "f/8", "--smallest", "f/16")["stops"] == [
        "f/8", "f/9.5", "f/11", "f/13", "f/16"
    ]  # fmt: skip
    assert reckoned(*half, "--stop", "f/6.3")["stops"] == ["f/6.3"]


def test_the_polar_day_is_named(daylight):
    said = daylight("--at", "78.2N 15.6E", *PLACE[2:], "--on", "2026-06-21", "--solar", "mean", "--day")
    assert "polar day" in said
    assert len([line for line in said.splitlines() if line[2:3] == ":"]) == 24


@pytest.mark.parametrize(
    ("words", "match"),
    [
        (("--at", "78.2N 15.6E", "--on", "2026-12-21", "--solar", "mean", "--day"), "polar night"),
        ((*THERE, "--on", "2026-12-21T20:00Z", "--stop", "f/8"), "twilight"),
        ((*THERE, "--on", "2026-12-21T12:00", "--stop", "f/8"), "offset"),
        ((*THERE, "--on", "2026-12-21", "--stop", "f/8"), "no hour"),
        ((*THERE, "--on", "2026-12-21", "--day"), "offset"),
        ((*THERE, "--on", "1700-12-21T12:00Z", "--stop", "f/8"), "1800 to 2100"),
        (("--at", "56.05", *NOON, "--stop", "f/8"), "--at"),
        ((*THERE, *NOON), "--stop"),
        ((*THERE, *NOON, "--stop", "wide"), "--stop"),
        ((*THERE, *NOON, "--stop", "f/8", "--offset", "Z"), "--offset"),
        ((*THERE, *NOON, "--day", "--half-stops"), "do not fit"),
        ((*THERE, *NOON, "--stop", "f/8", "--height", "9000 m"), "height"),
        ((*THERE, *NOON, "--stop", "f/8", "--index", "0"), "--index"),
        ((*THERE, *NOON, "--stop", "f/8", "--plate", "wet"), "--plate"),
        ((*THERE, *NOON, "--stop", "f/8", "--index-sun", "90"), "--index-sun"),
        ((*THERE, *NOON, "--stop", "f/8", "--reciprocity", "2"), "--recip"),
    ],
)
def test_what_can_not_be_reckoned_is_refused_in_one_line(daylight, words, match):
    with pytest.raises(Refused, match=match) as refusal:
        daylight("--plate", "blue", "--index", "2", *words)
    assert str(refusal.value).isprintable()


OUTING = ("daylight", "--at", "62.5N 17.5E", "--plate", "blue", "--index", "4")


def test_when_may_be_said_as_people_say_it_and_what_was_read_is_told_back(monkeypatch, capsys):
    """Counted from the machine's own clock, which here stands in the year 2019."""
    now = datetime(2019, 6, 20, 9, 0, tzinfo=timezone(timedelta(hours=2)))
    monkeypatch.setattr("firmware_py.service.here.now_here", lambda: now)
    assert main([*OUTING, "--on", "tomorrow noon", "--solar", "apparent", "--stop", "16"]) == 0
    spoken = capsys.readouterr().out
    assert spoken.endswith("  read as 2019-06-21T12:00\n")
    assert main([*OUTING, "--on", "2019-06-21T12:00", "--solar", "apparent", "--stop", "f/16"]) == 0
    assert spoken.startswith(capsys.readouterr().out)
    assert main([*OUTING, "--on", "03/04", "--day", "--offset", "+01:00"]) == 1
    assert "3 April 2019 or 4 March 2019" in capsys.readouterr().err
