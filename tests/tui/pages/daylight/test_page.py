"""The Daylight page: the command line's own reckoning, asked by numbers, remembered, with the day's table."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firmware_py.journal.box_advice import Correction
from firmware_py.service.book_questions import Advised, AskAdvice
from tests.tui.pages.stage import stage
from tests.tui.sample_advice import box_advice
from tests.tui.sample_bench import bench, lane
from tui.pages.daylight.outing_words import FILE, OutingWords, remember_outing, remembered_outing
from tui.pages.daylight.sunlight import large, reckon

SAID = OutingWords(place="56.05N 2.72W", index="3")


async def turned(on):
    await on.turn_to("daylight")
    await reckoned(on)


async def reckoned(on):
    while "Reckoning" in on.text():
        await on.pilot.pause(0.01)


async def test_what_is_asked_for_by_number_is_reckoned_and_remembered(tmp_path):
    async with stage(tmp_path, bench(lane()), own_s=0.0) as on:
        await turned(on)
        assert "Say the place first: key 1" in on.text()
        await on.press("1", *"56.05N", "space", *"2.72W", "enter")
        await reckoned(on)
        assert "Say the plate and its index: key 5" in on.text()
        await on.press("5", "1", "3", "enter")
        await on.press("3", *["backspace"] * 5, *"12:00Z", "enter")
        await reckoned(on)
        assert "1/3 s at f/16, good to 0.4 stop" in on.text()
        await on.press("6", *["backspace"] * 4, "f", "/", "6", "4", "enter", "4", "4")
        await reckoned(on)
        assert "no shadows" in on.text()
        assert "at f/64" in on.text()
        before = on.text()
        await on.press("down")
        await reckoned(on)
        assert " 3 Hour      13:00Z" in on.text()
        assert on.text() != before
        assert on.link.asked == []
    kept = remembered_outing(tmp_path)
    assert (kept.place, kept.index, kept.stop, kept.sky) == ("56.05N 2.72W", "3", "f/64", "cloudy")
    assert (kept.day, kept.hour) == ("", "")


async def test_dates_hours_and_stops_are_taken_as_they_are_said_and_two_readings_asked_about(tmp_path):
    """Issue 15, number 19: the page took "tomorrow" and answered with --at; 16, 4pm, 29 Nov were refused."""
    remember_outing(SAID, tmp_path)
    async with stage(tmp_path, bench(lane()), own_s=0.0) as on:
        await turned(on)
        for line, said, shown in (
            ("2", "29 Nov", " 2 Date      2031-11-29"),
            ("2", "2031-05-04", " 2 Date      2031-05-04"),
            ("3", "4pm", " 3 Hour      16:00"),
            ("3", "4 pm sun", " 3 Hour      16:00 sun"),
            ("3", "11:30+01:00", " 3 Hour      11:30+01:00"),
            ("6", "22", " 6 Stop      f/22"),
        ):
            await on.press(line, *("space" if sign == " " else sign for sign in said), "enter")
            assert shown in on.text()
        await on.press("2", *"03/04", "enter")
        assert '"03/04" can be 3 April 2031 or 4 March 2031' in " ".join(on.text().split())
        await on.press("escape", "3", "4", "enter")
        assert '"4" can be 4:00 or 16:00' in on.text()
        await on.press("escape", "2", *"soon", "enter")
        assert '"soon" is no date' in on.text()
        assert "--" not in on.text()


async def test_the_table_of_the_day_is_the_command_lines(tmp_path):
    remember_outing(SAID, tmp_path)
    async with stage(tmp_path, bench(lane()), own_s=0.0) as on:
        await turned(on)
        await on.press("d")
        assert "2031-05-04 at 56.05 N 2.72 W" in on.text()
        assert "f/5.6     f/8" in on.text()
        assert "D: further down" in on.text()
        await on.press("escape")
        await on.settle()
        assert " 1 Place" in on.text()
        await on.press("d", "d")
        assert "not to be trusted" in on.text()
        await on.press("d")
        await on.settle()
        assert " 1 Place" in on.text()


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"place": "nowhere"}, "No: place: "),
        ({"stop": "wide"}, "No: stop: "),
        ({"hour": "25:99"}, "No: hour"),
        ({"hour": "12:00 moon"}, "No: hour"),
        ({"hour": "00:00Z"}, "No: daylight"),
        ({"sky": "purple"}, "No: sky"),
    ],
)
def test_what_can_not_be_reckoned_is_said_in_words(changed, words):
    said = replace(SAID, day="2031-05-04", hour="12:00Z")
    assert reckon(replace(said, **changed)).refused.startswith(words)


def test_hours_may_be_the_suns_own():
    came = reckon(replace(SAID, day="2031-05-04", hour="12:00 sun"))
    assert (came.refused, came.digits) == ("", "1/3")
    assert "solar" in came.table[0]


@pytest.mark.parametrize(
    ("said", "digits"),
    [("1/8 s", "1/8"), ("2.5 s", "2.5"), ("1 min 20 s", "1:20"), ("1 h 20 min", "1:20:00")],
)
def test_an_exposure_is_drawn_large(said, digits):
    assert large(said)[0] == digits
    assert large("longer than 24 h") == ("", "longer than 24 h")


@pytest.mark.parametrize("kept", ["", "[]", "{", '{"place": 7, "index": "\\u001b[32m", "new": "x"}'])
def test_what_was_kept_and_can_not_be_read_is_forgotten(tmp_path, kept):
    (tmp_path / FILE).write_text(kept)
    assert remembered_outing(tmp_path) == OutingWords()


async def test_what_the_book_learned_of_a_box_corrects_the_reckoning_and_is_said(tmp_path):
    """A stop and a half more: the page's exposure is 2^1.5 times that of the bare reckoning."""
    told = replace(box_advice(), correction=Correction(1.5, 0.5, 1), box="blue 7")
    remember_outing(SAID, tmp_path)
    async with stage(tmp_path, bench(lane()), own_s=0.0) as on:
        on.link.book = lambda _: Advised(told=told)
        await turned(on)
        await on.press("b", *"blue", "enter")
        assert on.link.questions == [AskAdvice(box="blue")]
        await reckoned(on)
        text = on.text()
        assert "B Box       blue 7" in text
        assert "+1.5 stops ± 0.5" in text
        assert "from 1 plate" in text
        assert f"{'':13}REHEARSAL" in text
    kept = remembered_outing(tmp_path)
    at_noon = {"day": "2026-06-21", "hour": "12:00Z"}
    bare, learned = (reckon(replace(one, **at_noon)) for one in (SAID, kept))
    # About 0.28 s, said as the shutter's 1/4, and 0.28 · 2.83 = 0.8.
    assert (bare.digits, learned.digits) == ("1/4", "0.8")
