"""What is typed into a form: a wrong line loses nothing of it; and what is said goes when it is over."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.bath import MakeBath
from firmware_py.facts.acts.plate import EnterBox, EnterHolder, NoteExposure
from firmware_py.facts.acts.print import OpenPrint
from firmware_py.facts.views.plates import PlatesView
from tests.tui.pages.stage import stage
from tests.tui.sample_baths import FORMULAS, with_baths
from tests.tui.sample_plates import BOOK, plate, with_plates
from tui.pages.shared.reading import read_count, read_mm, read_number, read_seconds, read_volume_ml
from tui.pages.trays.forms import read_minutes


async def test_a_wrong_line_is_asked_again_with_what_was_typed_and_the_form_goes_on(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press("0", "4", "n", "1", "enter")
        assert "No: nothing is typed" in on.text()
        await on.press(*"spring", "enter")
        assert "No: a box is called spring already; allowed: another name" in on.text()
        await on.press(*"spring2", "enter", *"0", "enter")
        assert "No: out of bounds; allowed: at least 1" in on.text()
        await on.press("8", "enter", *"x", "enter")
        text = on.text()
        assert 'No: "x" is no number; allowed: for example 2, or 1/4' in text
        assert "Box spring2. Speed index" in text
        await on.press("3", "enter", "2")
        assert on.link.asked == [EnterBox(name="spring2", plates=8, speed_index=3.0, sensitivity="blue")]


async def test_the_first_letter_writes_anew_and_up_is_the_line_before(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press("0", "4", "2", "w")
        assert "keep it" in on.text()
        await on.press(*"25:99", "enter")
        assert 'No: "25:99" is no hour; allowed: "14:10" on 2030-03-14' in on.text()
        await on.press(*"14:20", "enter")
        assert "2 of 10. Where" in on.text()
        await on.press("up")
        text = on.text()
        assert "1 of 10. When" in text
        assert "14:20" in text
        assert "2030-03-14T12:40" not in text


async def test_what_the_bench_refuses_is_asked_again_at_once_and_goes_with_the_page(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        on.link.refuses = "a holder is called 3 already; allowed: another name"
        await on.press("0", "4", "n", "2", "3", "enter")
        assert "No: a holder is called 3 already; allowed: another name" in on.text()
        on.link.refuses = ""
        await on.press("right", "1", "enter")
        assert on.link.asked == [EnterHolder(name="3"), EnterHolder(name="31")]
        await on.press("4", "o")
        assert "Side 4B holds no plate" in on.text()
        await on.press("0", "3")
        assert "Side 4B holds no plate" not in on.text()


async def test_a_bath_of_nothing_is_refused_before_its_name_is_asked(tmp_path):
    async with stage(tmp_path, with_baths(), own_s=0.0) as on:
        await on.press("0", "3", "m", "1", "1", "enter")
        assert "No: nothing is typed" in on.text()
        await on.press("5", "enter")
        assert "No: out of bounds; allowed: at least 10" in on.text()
        await on.press("right", "0", "0", "enter", "enter")
        assert on.link.asked == [MakeBath(formula=FORMULAS[0].name, volume_ml=500.0)]


@pytest.mark.parametrize("read", [read_number, read_count, read_mm, read_seconds, read_volume_ml])
def test_an_empty_line_is_no_number(read):
    more = {"example": "8"} if read is read_number else {}
    with pytest.raises(Refused, match="nothing is typed"):
        read(" ", where="base", **more)


def test_minutes_are_read_with_and_without_their_word():
    assert [read_minutes(text) for text in ("2", "1,5", "2 min", "90 s")] == [2.0, 1.5, 2.0, 1.5]


async def test_a_print_is_opened_by_the_number_of_a_washed_plate(tmp_path):
    book = PlatesView(plates=(plate("spring/8", "exposed"), plate("spring/9", "washed")))
    async with stage(tmp_path, with_plates(book, foot_serves="lamp"), own_s=0.0) as on:
        await on.press("enter")
        assert "1  spring/9" in on.text()
        assert "spring/8" not in on.text()
        await on.press("1", "enter")
        assert on.link.asked == [OpenPrint(negative="spring/9", paper="paper")]


async def test_a_question_is_laid_out_anew_when_the_screen_becomes_narrower(tmp_path):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        await on.press("0", "4", "n", "1")
        await on.pilot.resize_terminal(44, 24)
        await on.settle()
        assert "spring/2 ...), then Enter:" in on.text()


@pytest.mark.parametrize(("typed", "stop"), [((), ""), (("?",), ""), (tuple("f/11"), "f/11")])
async def test_a_stop_that_nobody_noted_is_not_that_of_the_side_before(tmp_path, typed, stop):
    async with stage(tmp_path, with_plates(), own_s=0.0) as on:
        assert any(plate.exposure and plate.exposure.stop for plate in BOOK.plates)
        await on.press("0", "4", "3", "w", *["enter"] * 5)
        assert "6 of 10. Stop (f/16, or U.S. 64; ? is not noted)" in on.text()
        await on.press(*typed, *["enter"] * 5)
        [note] = on.link.asked
        assert isinstance(note, NoteExposure)
        assert note.stop == stop
        assert (note.f_number is None) is (stop == "")
