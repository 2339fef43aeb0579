"""The Lamp page: what it shows of a print, what its keys ask, and whom the foot serves."""

from __future__ import annotations

import msgspec
import pytest

from firmware_py.facts.acts.print import (
    AddBurn,
    BatheSheet,
    ChangeDistance,
    ChangePaper,
    ChooseLampMode,
    ChoosePatch,
    EndPrint,
    Expose,
    FinishSheet,
    ForgoRest,
    GiveUpSheet,
    GiveVerdict,
    NotePrint,
    OpenPrint,
    PlanStrip,
    PutOut,
    RemoveBurn,
    ServeFoot,
    SetBase,
    StopExposure,
    WantCopies,
)
from firmware_py.facts.acts.run import MoveFoot
from firmware_py.facts.views.print import FinishedView
from tests.tui.pages.stage import stage
from tests.tui.sample_bench import NOW_S, bench, lane
from tests.tui.sample_print import (
    LAMP_SCENES,
    a_print,
    broken_off,
    lamp,
    lit,
    printing,
    strip,
    strip_under_way,
)
from tui.widgets.big_time import BigTime

PRESS = [MoveFoot(down=True), MoveFoot(down=False)]
READY = LAMP_SCENES["lamp"]
DONE = (FinishedView(sheet=2, kind="print", measured_s=8.11, effective_s=8.0, run_id=None),)
LEFT = FinishedView(sheet=1, kind="strip", measured_s=22.7, effective_s=22.6, run_id=None)
GONE = FinishedView(sheet=2, kind="print", measured_s=8.11, effective_s=8.0, run_id="run-9")
REFUSED = ["NOT NOW: interlock 1", "'half plate 2,", "harbour wall' is open", "To do: fix it first"]
SHOWN = {
    "lamp": [
        "LAMP  FOOT HERE",
        "breakwater at low tide   warm bromide grade 2   600 mm   60 W opal lamp",
        "Base 8.00 s, patch 4",
        "Burn sky +0.5 stop 3.31 s",
        "Prints: 1 made, 2 left",
        "Foot, or Space: lamp on: base, 8 s",
        "Lamp on for 8.11 s: lag 0.11 ±0.01",
    ],
    "lamp-lit": [
        "■ printing lamp ON",
        "LAMP ON, base: seconds left",
        "Dose 3.1 of 8.00 s",
        "Foot, or Space: lamp off at once",
        "Foot held, or F: lamp off at once, and give the sheet up",
        "X  LAMP OFF",
    ],
    "lamp-strip": ["Cover patches 1 to 2, then the foot", "Strip 0.5 stop: 2 of 7", "7   22.6 s"],
    "lamp-rest": ["BROKEN OFF: base wants its rest, 4.90 s", "Sheet 3: 3.10 of 8.00 s"],
    "lamp-refused": REFUSED,
}


@pytest.mark.parametrize("scene", LAMP_SCENES)
async def test_the_page_shows_what_the_person_needs_at_80_by_24(tmp_path, scene):
    async with stage(tmp_path, LAMP_SCENES[scene], own_s=0.0) as on:
        text = on.text()
        assert [words for words in SHOWN[scene] if words not in text] == []
        assert " H  help" in text
        assert " Q  leave" in text


@pytest.mark.parametrize("key", ["b", "t", "m"])
async def test_no_question_hides_why_nothing_can_be_lit(tmp_path, key):
    wanted = [*REFUSED, "LAMP OFF. Next: base", "Foot: nothing now"]
    async with stage(tmp_path, LAMP_SCENES["lamp-refused"], own_s=0.0) as on:
        await on.press(key)
        assert "Escape  leave it" in on.text()
        assert [words for words in wanted if words not in on.text()] == []


async def test_during_a_strip_the_page_says_what_comes_after_and_not_what_the_foot_would_end(tmp_path):
    going_on = printing(strip_under_way(), lit(doing="strip, exposure 3 of 7"))
    async with stage(tmp_path, going_on, own_s=0.0) as on:
        assert "After this: cover patches 1 to 3" in on.text()
        assert "then the foot" not in on.text()


async def test_by_foot_alone_the_space_bar_says_that_it_can_not_be_held(tmp_path):
    by_foot = lamp(mode="bulb", foot_press="lamp on, as long as the foot is down")
    async with stage(tmp_path, printing(a_print(), by_foot), own_s=0.0) as on:
        assert "Space: lamp on; Space again: off" in on.text()


async def test_the_key_for_a_long_press_lasts_as_long_as_the_bench_takes_it_to(tmp_path, monkeypatch):
    slow = printing(a_print(), lamp(), long_press_s=4.0, speed=2.0)
    async with stage(tmp_path, slow) as on:
        held = []
        monkeypatch.setattr(on.screen, "do", lambda *acts, hold_s, press: held.append((acts, hold_s)))
        await on.press("f")
        assert held == [(tuple(PRESS), 2.5)]


async def test_large_digits_count_the_light_and_say_what_comes_next(tmp_path):
    async with stage(tmp_path, READY, own_s=0.0) as on:
        digits = on.screen.screen.query_one(BigTime)
        assert digits.text == "8.0"
        await on.show(LAMP_SCENES["lamp-lit"])
        assert digits.text == "5"
        long = lit(ends_s=NOW_S + 1796.8, wanted_s=1800.0)
        await on.show(printing(a_print(), long))
        assert digits.text == "29:57"


OVER = printing(a_print(is_open=False), lamp())
CASES = [
    ("space", READY, PRESS),
    ("4", printing(a_print(prints_finished=0), lamp()), [ChoosePatch(place=4.0)]),
    ("9", READY, []),
    ("b 1 : 3 0 enter", READY, [SetBase(base_s=90.0)]),
    ("b 7 , 5 enter", READY, [SetBase(base_s=7.5)]),
    ("b h o t enter escape", READY, []),
    ("t 1 enter", READY, [PlanStrip()]),
    ("t 5 6 enter", READY, [PlanStrip(method="uncovering", middle_s=6.0)]),
    ("u 1 / 2 space s k y enter", READY, [AddBurn(stops=0.5, place="sky")]),
    ("u 1 space 1 / 4 enter", READY, [AddBurn(stops=1.25)]),
    ("r 3 enter", READY, [WantCopies(copies=3)]),
    ("r enter", READY, [WantCopies()]),
    ("r - 3 enter escape", READY, []),
    ("n x enter", READY, [NotePrint(text="x")]),
    ("m 6 3 . 5 enter", READY, [ChoosePatch(place=3.5)]),
    ("m 7 1", READY, [RemoveBurn(burn=1)]),
    ("m 1 7 0 0 enter", READY, [ChangeDistance(distance_mm=700.0)]),
    ("m 2 x , g , s p e e d space 2 enter", READY, [ChangePaper(paper="x", grade="g", paper_speed=2.0)]),
    ("m 3 2", READY, [ChooseLampMode(mode="bulb")]),
    ("m 5 y", READY, [EndPrint()]),
    ("m 5 n", READY, []),
    ("a 1", printing(broken_off(), lamp()), [ForgoRest()]),
    ("a 2", printing(broken_off(), lamp()), [FinishSheet()]),
    ("a 3", printing(broken_off(), lamp()), [GiveUpSheet()]),
    ("enter", READY, []),
    ("enter", printing(a_print(finished=DONE), lamp()), [BatheSheet()]),
    ("enter 2", printing(a_print(finished=(LEFT, *DONE)), lamp()), [BatheSheet(sheet=1)]),
    ("enter 1", printing(a_print(finished=(LEFT, GONE)), lamp()), [BatheSheet(sheet=1)]),
    ("enter", printing(a_print(finished=(GONE,)), lamp()), []),
    ("enter x enter y enter", printing(None, lamp()), [OpenPrint(negative="x", paper="y")]),
    ("x", LAMP_SCENES["lamp-lit"], [PutOut()]),
    ("space", printing(a_print(), lamp(mode="bulb")), [Expose()]),
    ("space", printing(a_print(), lit(mode="bulb")), [StopExposure()]),
    ("p c o w", READY, []),
    ("n x enter", OVER, [NotePrint(text="x")]),
    ("m 1 g o o d enter", OVER, [GiveVerdict(verdict="good")]),
    ("b 8 enter t 1 enter m 5 y n o enter a 1", LAMP_SCENES["lamp-lit"], []),
]


async def test_keys_ask_the_bench(tmp_path):
    async with stage(tmp_path, READY) as on:
        # Nothing is looked at here, so nothing is drawn: that is most of what a key costs.
        with on.screen.batch_update():
            for keys, view, asked in CASES:
                await on.show(view)
                on.link.asked.clear()
                on.rest()
                await on.press(*keys.split())
                assert on.link.asked == asked, keys


async def test_lamp_off_counts_every_time(tmp_path):
    async with stage(tmp_path, LAMP_SCENES["lamp-lit"]) as on:
        await on.press("x", "x")
        assert on.link.asked == [PutOut(), PutOut()]


async def test_a_print_is_opened_again_with_the_negative_and_paper_of_before(tmp_path):
    async with stage(tmp_path, printing(a_print(is_open=False, paper_speed=120.0), lamp())) as on:
        assert "Enter: open a print" in on.text()
        await on.press("enter", "enter", "enter")
        assert on.link.asked == [
            OpenPrint(
                negative="breakwater at low tide", paper="warm bromide", grade="grade 2", paper_speed=120.0
            )
        ]


async def test_turning_a_page_takes_the_foot_along_and_both_pages_say_where_it_is(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        assert "TRAYS  FOOT HERE" in on.text()
        await on.press("right")
        assert on.link.asked == [ServeFoot(to="lamp")]
        assert "LAMP  foot: TRAYS" in on.text()
        assert "FOOT SERVES THE TRAYS" in on.text()
        assert "G: get it to this page" in on.text()
        await on.show(printing(a_print(), lamp(), lane()))
        assert "LAMP  FOOT HERE" in on.text()
        await on.press("left")
        assert "TRAYS  foot: LAMP" in on.text()
        assert "FOOT SERVES THE LAMP: lamp on: base, 8 s" in on.text()
        await on.press("g")
        assert on.link.asked == [ServeFoot(to="lamp"), *2 * [ServeFoot(to="trays")]]


async def test_a_screen_opened_anew_begins_at_the_lamp_where_the_foot_serves_it(tmp_path):
    async with stage(tmp_path, READY) as on:
        assert "LAMP  FOOT HERE" in on.text()
        assert on.link.asked == []


async def test_keys_of_the_trays_do_nothing_at_the_lamp(tmp_path):
    async with stage(tmp_path, printing(None, lamp(), lane())) as on:
        await on.press("p", "w", "c", "down")
        assert on.link.asked == []


async def test_a_strip_of_many_patches_shows_those_about_the_one_that_counts(tmp_path):
    patches = tuple(msgspec.structs.replace(strip().patches[0], patch=n) for n in range(1, 25))
    many = msgspec.structs.replace(strip(), patches=patches)
    async with stage(tmp_path, printing(a_print(strip=many, chosen_patch=20.0), lamp())) as on:
        assert "20   2.83 s" in on.text()
        assert " 3   2.83 s" not in on.text()


async def test_hostile_words_do_not_break_the_page(tmp_path):
    hostile = a_print(negative="[bold green]x[/] \x1b[32m " + "y" * 300, grade="\u202e[on white]")
    async with stage(tmp_path, printing(hostile, lamp(blocked="\x1b[32m" + "z " * 400))) as on:
        assert "[bold green]x[/]" in on.text()
        assert {len(row) for row in on.text().splitlines()} == {80}


async def test_a_digit_sets_no_other_base_while_prints_of_this_one_are_under_way(tmp_path):
    async with stage(tmp_path, printing(a_print(), lamp()), own_s=0.0) as on:
        await on.turn_to("lamp")
        await on.press("4")
        assert on.link.asked == []
        assert "Prints are under way with this base: B sets another" in on.text()
        await on.show(printing(a_print(prints_finished=0), lamp()))
        await on.press("4")
        assert on.link.asked == [ChoosePatch(place=4.0)]
