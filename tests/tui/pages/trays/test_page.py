"""The Trays page: what it shows, and what its keys ask of the bench."""

from __future__ import annotations

import asyncio
from typing import Any

import msgspec
import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.bath import NameBath
from firmware_py.facts.acts.run import (
    Abandon,
    ChangeWater,
    CorrectPlate,
    CutShort,
    Focus,
    Mark,
    MoveFoot,
    Note,
    OpenRun,
    Proceed,
    Pull,
    SayTemperature,
    SwitchSafelight,
    TakeBackMark,
    TakeBackPull,
    TakeUp,
)
from firmware_py.facts.views.bench import PhraseView
from firmware_py.facts.views.run import AwayView, MarkView, WashView
from firmware_py.facts.views.upkeep import PlateLightView
from firmware_py.journal.book_target import BookTarget
from firmware_py.service.book_questions import AskBookTarget, BookTargetTold
from firmware_py.service.client import LinkLost
from tests.tui.pages.stage import stage
from tests.tui.sample_baths import FRESH
from tests.tui.sample_bench import NOW_S, bath, bench, due, ended, fixing, lane, ready, six_lanes, steps
from tests.tui.sample_plates import BOOK
from tui.pages.shared.page_names import PAGE_NAMES
from tui.widgets.big_time import BigTime

AWAY: dict[str, Any] = {"state": "interrupted", "due_s": None, "equivalent_s": None, "next_cue": None}


async def test_a_development_at_80_by_24_shows_all_that_the_person_needs(tmp_path):
    async with stage(tmp_path, bench(lane()), own_s=0.0) as on:
        text = on.text()
        for words in (
            "REHEARSAL",
            "half plate 1, breakwater at low tide",
            "► DEVELOP            HERE",
            "[1] TRAY 1",
            "DEVELOP: time left, ±8 s",
            "Equivalent 1:53 of 5:00 at 18 °C",
            "Bath 17.4 °C ±0.5, read 0:01 ago, falling 0.1 K/min",
            "Rock the tray, left edge up",
            "Foot or Space: mark: shadow detail shows",
            "Foot held or F: pull the plate",
            "Seen: sky is up 1:18, image appears 0:41",
            "safelight ON",
            "printing lamp off",
            "P  PULL",
        ):
            assert words in text
        assert on.screen.screen.query_one(BigTime).text in {"3:08", "3:07"}


async def test_large_digits_keep_ten_columns_by_seven_rows_while_something_is_asked(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        await on.press("n")
        digits = on.screen.screen.query_one(BigTime)
        assert digits.size.height >= 7
        assert digits._scale("3:08") == 2


async def test_six_trays_fit_at_80_by_24_the_most_pressing_on_top(tmp_path):
    async with stage(tmp_path, six_lanes(), own_s=0.0) as on:
        text = on.text()
        lines = ("NOW  TRAY 2: On to Wash", "! 2  +1:13", "►[1]", "► 3 ", "► 4 ", "○ 5 ", "  6        over")
        places = [text.index(words) for words in lines]
        assert places == sorted(places)
        assert "! Probe of tray 3 is silent (0:20 ago)" in text


async def test_a_step_over_its_time_stands_between_two_lit_bars(tmp_path):
    async with stage(tmp_path, bench(fixing(1, state="due", due_s=NOW_S - 73))) as on:
        right = on.screen.screen.query_one("#right")
        assert right.has_class("-waiting")
        for name in ("#what", "#call"):
            widget = on.screen.screen.query_one(name)
            assert widget.styles.background.r > widget.styles.color.r
        await on.show(bench(lane()))
        assert not right.has_class("-waiting")


async def test_digits_stand_clear_of_the_lit_bars_at_80_by_24(tmp_path):
    async with stage(tmp_path, bench(fixing(1, state="due", due_s=NOW_S - 73))) as on:
        rows = on.text().splitlines()
        above = next(n for n, row in enumerate(rows) if "OVER ITS TIME" in row)
        below = next(n for n, row in enumerate(rows) if "On to Wash: Enter" in row)
        assert not rows[above + 1][28:].strip()
        assert not rows[below - 1][28:].strip()
        assert below - above == 11


async def test_help_and_leave_are_named_on_every_page_whatever_else_holds(tmp_path):
    async with stage(tmp_path) as on:
        for sample in six_lanes().lanes:
            await on.show(bench(sample))
            assert " H  help   Q  leave" in on.text()
        assumed = lane(bath=bath(source="assumed"))
        await on.show(bench(assumed))
        assert " H  help   Q  leave" in on.text()


async def test_a_temperature_that_is_no_reading_says_so(tmp_path):
    async with stage(tmp_path) as on:
        for source, words in (("trend", "BY TREND"), ("assumed", "only ASSUMED"), ("hand", "BY HAND")):
            await on.show(bench(lane(bath=bath(source=source))))
            assert words in on.text()


async def test_a_lost_line_is_said_in_the_banner_and_time_goes_on(tmp_path):
    async with stage(tmp_path, bench(lane()), LinkLost("the controller closed the line")) as on:
        banner = on.text().splitlines()[1]
        assert banner.startswith(" BENCH DISCONNECTED for 0:0")
        assert "REHEARSAL" in banner
        assert "Times estimated" in on.text()
        await on.show(bench(lane()))
        assert "DISCONNECTED" not in on.text()


async def test_a_controller_that_stays_away_is_started_by_a_key_and_not_before(tmp_path):
    own_s, started = [0.0], []
    gone = LinkLost("no controller listens at bench.sock")
    async with stage(
        tmp_path, bench(lane()), gone, own_s=lambda: own_s[0], start=lambda: started.append(1)
    ) as on:
        await on.press("k")
        assert "Reconnecting" in on.text()
        assert started == []
        own_s[0] += 6.0
        await on.show(gone)
        assert "BENCH DISCONNECTED for 0:06. K restarts it" in on.text()
        assert "No controller listens at bench.sock. Times estimated" in on.text()
        assert " K  start the controller" in on.text()
        await on.press("k")
        await until(on, lambda: started == [1])


async def test_a_controller_that_can_not_be_started_is_said(tmp_path):
    def fail():
        raise Refused("ended without a word", where="controller")

    own_s = [0.0]
    async with stage(tmp_path, LinkLost("gone"), own_s=lambda: own_s[0], start=fail) as on:
        own_s[0] += 6.0
        await on.press("k")
        await until(on, lambda: "No: controller: ended without a word" in on.text())


async def until(on, reached):
    """Wait for what a thread does."""
    async with asyncio.timeout(20.0):
        while not reached():
            await on.pilot.pause(0.01)


async def test_before_any_view_no_bench_is_in_sight(tmp_path):
    async with stage(tmp_path) as on:
        assert "Connecting to the bench" in on.text()
        await on.press("enter", "o", "p")
        assert on.link.asked == []


LETTERS: dict[str, Any] = {"mark_keys": ("5", "6", "p", "7", "v")}
PHRASES = (PhraseView(words="looks dense"), PhraseView(words="looks thin"))
WATER = WashView(water=1, waters=6, change_due_s=NOW_S - 1.0)
CASES = [
    ("p", bench(lane()), [Pull(lane=1)]),
    ("3", bench(lane()), [Mark(what="shadow detail shows", lane=1)]),
    ("9", bench(lane()), []),
    ("space", bench(lane()), [MoveFoot(down=True), MoveFoot(down=False)]),
    ("enter", bench(fixing(4, state="due", due_s=NOW_S - 5)), [Proceed(lane=4)]),
    ("enter", bench(lane(**AWAY)), [TakeUp(lane=1)]),
    ("w 7 . 5 enter", bench(lane(**AWAY)), [TakeUp(lane=1, away_s=450.0)]),
    ("s", bench(lane()), [SwitchSafelight(on=False)]),
    ("c y", bench(fixing(1)), [CutShort(lane=1)]),
    ("c n", bench(fixing(1)), []),
    ("c enter escape", bench(fixing(1)), []),
    ("a y", bench(lane()), [Abandon(lane=1)]),
    ("a escape", bench(lane()), []),
    ("t 1 9 , 5 enter", bench(lane()), [SayTemperature(bath_degC=19.5, lane=1)]),
    ("t 6 8 space F enter", bench(lane()), [SayTemperature(bath_degC=20.0, lane=1)]),
    ("n s p space 1 enter", bench(lane()), [Note(text="sp 1", lane=1)]),
    ("n enter", bench(lane()), []),
    ("o 2 x enter", bench(), [OpenRun(plate="x", routine="metol-hydroquinone")]),
    ("o escape", bench(), []),
    ("down", six_lanes(), [Focus(lane=3)]),
    ("up", six_lanes(), [Focus(lane=2)]),
    ("u", six_lanes(), [Focus(lane=2)]),
    ("u", bench(lane()), []),
    ("b", bench(lane()), [TakeBackMark(lane=1)]),
    ("z", bench(fixing(1, back_until_s=NOW_S + 9.0)), [TakeBackPull(lane=1)]),
    ("v", bench(lane(**LETTERS)), [Mark(what="fog", lane=1)]),
    ("p", bench(lane(**LETTERS)), [Pull(lane=1)]),
    ("m p", bench(lane(**LETTERS)), [Mark(what="shadow detail shows", lane=1)]),
    ("5", bench(lane(**LETTERS)), [Mark(what="image appears", lane=1)]),
    ("n down 2", bench(lane(), phrases=PHRASES), [Note(text="looks thin", lane=1)]),
    ("n x 2 d enter", bench(lane(), phrases=PHRASES), [Note(text="x2d", lane=1)]),
    ("enter", bench(fixing(1, wash=WATER)), [ChangeWater(lane=1)]),
    ("down", bench(lane()), []),
    ("escape", bench(lane()), []),
]


async def test_keys_ask_the_bench(tmp_path):
    async with stage(tmp_path, bench()) as on:
        # Nothing is looked at here, so nothing is drawn: that is most of what a key costs.
        with on.screen.batch_update():
            for keys, view, asked in CASES:
                await on.show(view)
                on.link.asked.clear()
                on.rest()
                await on.press(*keys.split())
                assert [same_degrees(act) for act in on.link.asked] == asked, keys


def same_degrees(act):
    return (
        SayTemperature(bath_degC=round(act.bath_degC, 6), lane=act.lane)
        if isinstance(act, SayTemperature)
        else act
    )


async def test_the_plate_of_a_run_is_corrected_by_typing_over_its_present_name(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        await on.press("j")
        assert "Tray 1. Correct the plate, then Enter:" in on.text()
        assert lane().plate in on.text().partition("Correct the plate")[2]
        await on.press(*["backspace"] * len(lane().plate), *"glass", "enter")
        assert on.link.asked == [CorrectPlate(plate="glass", lane=1, others=())]


async def test_the_right_plate_is_chosen_of_those_that_wait_in_their_sides(tmp_path):
    view = bench(lane(plate="spring/4", plates=("spring/4", "spring/5")))
    async with stage(tmp_path, msgspec.structs.replace(view, plates=BOOK)) as on:
        await on.press("j")
        assert "Which plate is wrong? Its number:" in on.text()
        await on.press("2")
        assert "Tray 1 has spring/5. Which plate is it instead? Its number:" in on.text()
        await on.press("2")
        assert on.link.asked == [CorrectPlate(plate="spring/4", others=("spring/2",), lane=1)]


async def test_a_plate_without_a_typed_name_is_called_by_the_hour(tmp_path):
    async with stage(tmp_path, bench()) as on:
        await on.press("o", "1", "enter")
        [opened] = on.link.asked
        assert isinstance(opened, OpenRun)
        assert opened.plate.startswith("plate of ")


async def test_a_key_held_down_counts_once(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        await on.press(*["1"] * 4, *["space"] * 4)
        assert on.link.asked == [
            Mark(what="image appears", lane=1),
            MoveFoot(down=True),
            MoveFoot(down=False),
        ]


async def test_no_key_acts_on_a_plate_while_something_is_asked(tmp_path):
    """A key typed fast was on its way to the page before the question was there to take it."""
    async with stage(tmp_path, bench(lane())) as on:
        await on.press("n")
        on.screen.screen.set_focus(None)
        await on.press("p", "1", "s")
        assert on.link.asked == []


async def test_a_note_survives_cues_and_being_put_aside(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        await on.press("n", "d", "a", "r", "k")
        await on.show(bench(lane(due_s=NOW_S + 30.0)), bench(fixing(1)))
        assert "dark" in on.text()
        await on.press("escape")
        assert "dark" not in on.text()
        await on.press("n", "e", "r", "enter")
        assert on.link.asked == [Note(text="darker", lane=1)]


async def test_an_answer_goes_to_the_tray_that_was_asked_about(tmp_path):
    async with stage(tmp_path, bench(lane(1), fixing(2))) as on:
        await on.press("n", "x")
        await on.show(bench(lane(1), fixing(2), focus=2))
        await on.press("enter")
        assert on.link.asked == [Note(text="x", lane=1)]


async def test_a_refusal_is_said_in_the_benchs_words(tmp_path):
    async with stage(tmp_path, bench(fixing(1))) as on:
        on.link.refuses = "cannot pull while nothing develops in tray 1"
        await on.press("p")
        assert "No: cannot pull while nothing develops in tray 1" in on.text()


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ("t h o t enter", 'No: "hot"'),
        ("t 9 e 9 enter", "No: bath degC: "),
        ("t n a n enter", "No: bath degC: "),
    ],
)
async def test_a_temperature_that_is_none_never_reaches_the_bench(tmp_path, keys, words):
    async with stage(tmp_path, bench(lane())) as on:
        await on.press(*keys.split())
        assert on.link.asked == []
        assert words in on.text()


async def test_hostile_words_do_not_break_the_page(tmp_path):
    hostile = lane(plate="[bold green]x[/] \x1b[32m " + "y" * 300, routine="\u202e[on white]")
    async with stage(tmp_path, bench(hostile)) as on:
        assert "[bold green]x[/]" in on.text()
        assert {len(row) for row in on.text().splitlines()} == {80}


async def test_help_opens_over_the_page_and_any_key_goes_back(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        await on.press("h")
        assert "Pull the plate: development ends now" in on.text()
        assert "REHEARSAL" in on.text()
        await on.press("p")
        assert "time left" in on.text()
        assert on.link.asked == []


async def test_brightness_has_nine_steps_and_is_remembered(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        await on.press("minus", "minus")
        assert "light 4 of 9" in on.text()
    (tmp_path / "screen-light").write_text("8")
    async with stage(tmp_path, bench(lane())) as on:
        await on.press("plus", "plus")
        assert "light 9 of 9" in on.text()
        assert (tmp_path / "screen-light").read_text() == "9\n"


async def test_leaving_asks_nothing_of_the_bench(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        await on.press("q")
        assert on.link.asked == []
        assert on.screen.return_code == 0


async def test_enter_says_what_to_press_while_a_step_goes_on_or_nobody_knows_how_long_it_lay(tmp_path):
    unknown = AwayView(
        last_utc="2031-05-04T19:00:00+00:00",
        least_s=60.0,
        likely_s=None,
        doubt_s=0.0,
        why_not="the wall clock went back",
    )
    cases = (
        (lane(), "goes on: P pulls the plate"),
        (
            fixing(1, look_due_s=NOW_S + 300, mark_names=("fog", "plate is clear")),
            "goes on: 2 marks the plate clear, C cuts it short",
        ),
        (lane(state="interrupted", away=unknown), "How many minutes (12.5) did"),
    )
    async with stage(tmp_path, bench(lane()), own_s=0.0) as on:
        for view, words in cases:
            await on.show(bench(view))
            await on.press("enter")
            assert words in on.text()
        assert on.link.asked == []


async def test_a_developer_that_the_book_has_under_another_name_is_said_before_the_plate_is_in(tmp_path):
    words = "Not a bath of the book: name one on the Baths page"
    async with stage(tmp_path, bench(ready(1)), own_s=0.0) as on:
        assert words not in on.text()
        await on.show(bench(ready(1), baths=(FRESH,)))
        assert words in on.text()


async def test_a_pull_can_be_taken_back_as_long_as_the_page_says_so(tmp_path):
    pulled = fixing(1, back_until_s=NOW_S + 9.0, foot_short="put it back: Develop goes on")
    async with stage(tmp_path, bench(pulled), own_s=0.0) as on:
        text = on.text()
        assert "Pulled by mistake? Z: put it back (0:09)" in text
        assert "Z  PUT IT BACK" in text
        assert "Foot or Space: put it back: Develop goes on" in text
        await on.show(bench(fixing(1, back_until_s=NOW_S - 0.1)))
        assert "PUT IT BACK" not in on.text()


def under_light(**changes):
    """What the safelight is to an open plate; it has not been tested unless said."""
    plain = {"lit": True, "used": None, "left_s": None, "safe_s": None, "words": "not watched"}
    return PlateLightView(**{**plain, **changes})


async def test_a_safelight_that_was_not_tested_is_told_while_a_plate_lies_open_under_it(tmp_path):
    """Of the run in focus and of the others; not while it is off, nor once it is tested."""
    tested = under_light(safe_s=600.0, used=0.1, left_s=540.0)
    async with stage(tmp_path, bench(lane(1, light=under_light()), lane(2, light=tested))) as on:
        title = on.text().splitlines()[3].rstrip()
        assert title.endswith("safelight only, UNTESTED")
        await on.show(
            bench(lane(1, light=tested), lane(2, light=under_light()), fixing(3, light=under_light()))
        )
        assert on.text().splitlines()[3].rstrip().endswith("safelight only, 10 % used   runs 2, 3 UNTESTED")
        await on.show(bench(lane(1, light=under_light(lit=False)), lane(2)))
        assert "UNTESTED" not in on.text()


async def test_every_page_tells_once_whether_white_light_may_come_on(tmp_path):
    """One answer for the room, the same on all pages; unknown while the bench is disconnected."""
    washing = fixing(3, steps=steps(3), step=3, light_allowed="white")
    async with stage(tmp_path, bench(washing, lane(2), lane(4))) as on:
        for page in PAGE_NAMES:
            await on.turn_to(page)
            assert on.text().count("WHITE LIGHT: NOT YET, runs 2, 4 are open") == 1, on.text()
            assert on.text().splitlines()[1].rstrip().endswith("open")
        await on.show(bench(washing, ended(2)))
        assert "White light: allowed" in on.text()
        await on.show(LinkLost("gone"))
        assert "WHITE LIGHT: UNKNOWN" in on.text()


async def test_while_the_bench_is_disconnected_no_relay_is_told_to_be_on_or_off(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        assert "■ safelight ON" in on.text()
        await on.show(LinkLost("gone"))
        for page in ("lamp", "bench"):
            await on.turn_to(page)
            assert "? safelight UNKNOWN" in on.text()
            assert "safelight ON" not in on.text()
        assert "? safelight     UNKNOWN" in on.text()
        await on.show(bench(lane()))
        assert "■ safelight ON" in on.text()


async def test_a_step_that_two_bottles_fit_asks_which_after_the_plate_has_moved_on(tmp_path):
    """The clock does not wait for the answer; where one bottle is known nothing is asked."""
    choices = tuple(
        msgspec.structs.replace(step, bath_choices=("hypo 1", "hypo 2")) if step.kind == "fix" else step
        for step in steps(1)
    )
    rinsed = due(1, steps=choices, step=1)
    async with stage(tmp_path, bench(rinsed)) as on:
        await on.press("enter")
        assert on.link.asked == [Proceed(lane=1)]
        assert "Fix, run 1: which bath is it in?" in on.text()
        await on.press("2")
        assert on.link.asked == [Proceed(lane=1), NameBath(bath="hypo 2", step=2, lane=1)]
        await on.show(bench(due(1, steps=steps(1), step=1)))
        on.rest()
        await on.press("enter")
        assert on.link.asked[2:] == [Proceed(lane=1)]
        assert "which bath" not in on.text()


async def test_the_book_is_asked_of_the_plate_in_the_developer_and_again_when_its_image_appears(tmp_path):
    """Its time, its range and its chance are beside the other times; another mark asks anew."""
    told = {
        0: BookTarget(equivalent_s=340.0, low_s=290.0, high_s=390.0, chance=0.58, plates=4, appeared_s=None),
        1: BookTarget(equivalent_s=400.0, low_s=360.0, high_s=450.0, chance=0.71, plates=4, appeared_s=48.0),
    }
    marked = MarkView(what="image appears", elapsed_s=48.0, equivalent_s=48.0)
    async with stage(tmp_path, bench(ready(1))) as on:
        on.link.book = lambda _: BookTargetTold(run="run-1", target=told[len(on.link.questions) - 1])
        await on.show(bench(lane(box="blue 7", marks=())))
        await on.show(bench(lane(box="blue 7", marks=())))
        assert on.link.questions == [AskBookTarget(run="run-1")]
        assert "Book: 5:40 (4:50 to 6:30), 6 in 10 fit" in on.text()
        await on.show(bench(lane(box="blue 7", marks=(marked,))))
        await on.show(bench(lane(box="blue 7", marks=(marked,))))
        assert on.link.questions == 2 * [AskBookTarget(run="run-1")]
        assert "Book: 6:40 (6:00 to 7:30), 7 in 10 fit" in on.text()


async def test_a_plate_of_no_box_asks_the_book_nothing(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        await on.show(bench(lane()))
        assert on.link.questions == []
