"""The Plates page: what it shows of sides, plates and boxes, and what its keys ask of the bench."""

from __future__ import annotations

import msgspec
import pytest

from firmware_py.facts.acts.plate import (
    AdvancePlate,
    BreakPlate,
    EnterBox,
    EnterHolder,
    FilePlate,
    LoadPlate,
    MarkExposed,
    NoteExposure,
    NotePlate,
    TakeBackExposure,
    UnloadPlate,
)
from firmware_py.facts.acts.print import ServeFoot
from firmware_py.facts.acts.run import OpenRun
from firmware_py.facts.views.plates import PlatesView
from tests.tui.pages.stage import stage
from tests.tui.sample_bench import bench, lane
from tests.tui.sample_plates import BOOK, box, holder, plate, with_plates
from tui.pages.plates.keys import KEYS

ONE_BOX = msgspec.structs.replace(BOOK, boxes=BOOK.boxes[:1])
PAGE = ("0", "4")


@pytest.mark.parametrize("size", [(80, 24), (120, 36)])
async def test_every_side_and_plate_is_told_by_shape_and_words(tmp_path, size):
    async with stage(tmp_path, with_plates(), size=size, own_s=0.0) as on:
        await on.press(*PAGE)
        text = on.text()
        for words in (
            "1 ► 3A     [■■■] spring/1             EXPOSED  ",
            "2   3B     [■■■] spring/2             EXPOSED, not written down",
            "3   4A     [ ■ ] spring/3             loaded",
            "4   4B     [   ]                      empty",
            "5                spring/4             developing, tray 1",
            "spring/1: 1 s at U.S. 16 (f/16)",
            "mole at low water, clear",
            "daylight says 0.8 s: given 0.4 stop more, within its doubt of 0.4 stop",
            "2 exposed and waiting for development; 1 loaded",
            "box spring: 9 left, spring/4 next; safe 5:00 by your test; blue; index 2;",
            "box pan 2: EMPTY; no safelight test; panchromatic",
            " H  help   Q  leave",
        ):
            assert words in text


async def test_an_empty_book_says_how_to_begin(tmp_path):
    async with stage(tmp_path, bench(lane()), own_s=0.0) as on:
        await on.press(*PAGE)
        assert "The book knows no box and no holder yet: N enters a box, then a holder" in on.text()
        await on.press("i", "e", "w", "o")
        assert "No holder yet: N enters one" in on.text()
        assert on.link.asked == []


@pytest.mark.parametrize(
    ("keys", "act"),
    [
        (("i",), LoadPlate(side="4B", box="spring")),
        (("3", "u"), UnloadPlate(side="4A")),
        (("3", "e"), MarkExposed(side="4A")),
        (("2", "enter", "1"), TakeBackExposure(plate="spring/2")),
        (("5", "enter", "3"), AdvancePlate(plate="spring/4", to="dry")),
        (("3", "enter", "1", *"wet", "enter"), NotePlate(plate="spring/3", text="wet")),
        (("3", "enter", "2", *"fell", "enter"), BreakPlate(plate="spring/3", how="fell")),
        (("n", "2", "5", "enter"), EnterHolder(name="5")),
        (
            ("n", "1", *"may", "enter", "enter", *"1/4", "enter", "2"),
            EnterBox(name="may", plates=12, speed_index=0.25, sensitivity="blue"),
        ),
    ],
)
async def test_a_few_keys_ask_the_bench_for_it(tmp_path, keys, act):
    async with stage(tmp_path, with_plates(ONE_BOX), own_s=0.0) as on:
        await on.press(*PAGE, *keys)
        assert on.link.asked == [act]


async def test_a_run_opened_with_a_plate_turns_to_the_trays(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press(*PAGE, "2", "o", "1")
        assert on.screen.page == "trays"


async def test_a_line_of_the_form_tells_the_words_there_are_while_it_is_asked(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press(*PAGE, "2", "w", *["enter"] * 4)
        told = ["5 of 10. Light", "Skies: clear, white-clouds", "Sun: front, side, back, shade"]
        assert [words for words in told if words in on.text()] == told
        await on.press(*"fog", "enter")
        assert [words for words in told if words in on.text()] == told


async def test_a_run_is_opened_with_the_plate_and_goes_on_at_the_trays(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press(*PAGE, "2")
        assert "O  develop it" in on.text()
        await on.press("o", "1")
        assert on.link.asked == [OpenRun(plate="spring/2", routine="pyro-soda"), ServeFoot(to="trays")]
        assert on.text().startswith(" TRAYS ")


async def test_only_the_keys_of_the_row_are_offered(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press(*PAGE, "4")
        assert "I  load   N  new" in on.text()
        await on.press("3")
        assert "U  unload   E  exposed   W  exposure   O  develop it" in on.text()


async def test_an_empty_side_says_which_key_loads_it(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press(*PAGE, "4", "o")
        key = next(use.label for use in KEYS if use.act == "load")
        assert f"Side 4B holds no plate: {key} loads it" in on.text()


async def test_a_dry_plate_is_filed_and_of_several_boxes_one_is_chosen(tmp_path):
    two = (box("spring", 9), box("may", 2))
    book = PlatesView(boxes=two, holders=(holder("4"),), plates=(plate("spring/9", "dry"),))
    async with stage(tmp_path, with_plates(book), own_s=0.0) as on:
        await on.press(*PAGE, "down", "down", "enter", "1", *"drawer", "enter")
        await on.press("1", "i", "2")
        assert on.link.asked == [
            FilePlate(plate="spring/9", place="drawer"),
            LoadPlate(side="4A", box="may"),
        ]


async def test_the_exposure_is_written_in_ten_lines_and_the_side_before_is_the_start(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press(*PAGE, "2", "w")
        assert "spring/2, 1 of 10. When" in on.text()
        await on.press(
            "enter", "enter", *"boats", "enter", "enter", *"clear side", "enter", *"U.S. 16", "enter"
        )
        await on.press(*"two", "enter")
        assert 'No: "two"' in on.text()
        assert "7 of 10. Time" in on.text()
        await on.press(*["backspace"] * 3, *"1/2", "enter", "enter", *"yellow 4", "enter", "enter")
        assert on.link.asked == [
            NoteExposure(
                plate="spring/2",
                taken="2030-03-14T12:40+01:00",
                where="59.8N 5.2E",
                subject="boats",
                sky="clear",
                lighting="side",
                stop="U.S. 16",
                f_number=16.0,
                time_s=0.5,
                filters="yellow 4",
                filter_factor=4.0,
            )
        ]


async def test_the_trays_page_offers_the_exposed_plates(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press("o", "1")
        text = on.text()
        assert "1  spring/1 in side 3A: mole at low water" in text
        assert "3  another: type its name" in text
        await on.press("2")
        assert on.link.asked == [OpenRun(plate="spring/2", routine="pyro-soda")]


async def test_more_rows_than_fit_are_scrolled_to_the_one_that_is_chosen(tmp_path):
    many = tuple(plate(f"spring/{n}", "washed") for n in range(1, 41))
    book = PlatesView(holders=(holder("4"),), plates=many, more=3)
    async with stage(tmp_path, with_plates(book), own_s=0.0) as on:
        await on.press(*PAGE, "up")
        text = on.text()
        assert "► " in text
        assert "spring/40" in text
        assert "3 older plates are not shown" in text
