"""The Baths page: what it shows of every bath, heat and probe, and what its keys ask of the bench."""

from __future__ import annotations

import pytest

from firmware_py.craft.mixing import bottle_cautions, substances_of
from firmware_py.data.formulary import shipped_formulas
from firmware_py.facts.acts.bath import (
    CalibrateProbe,
    DateBath,
    DiscardBath,
    MakeBath,
    NameBath,
    SeeClearing,
    SetHeat,
    StopHeat,
)
from firmware_py.facts.acts.run import SayTemperature
from firmware_py.facts.views.upkeep import FormulaView
from tests.tui.pages.stage import stage
from tests.tui.sample_baths import BATHS, EXHAUSTED, FRESH, STOPPED, TOO_WARM, with_baths
from tests.tui.sample_bench import bench, fixing, lane
from tui.pages.baths.page import BathsPage

ALL = with_baths(*BATHS)
FIXER = with_baths(EXHAUSTED, lanes=(lane(1), fixing(2)))


async def test_every_bath_is_judged_in_words_beside_what_is_left_of_it(tmp_path):
    async with stage(tmp_path, ALL, own_s=0.0) as on:
        await on.press("0", "3")
        text = on.text()
        rows = [next(row for row in text.splitlines() if f"{n} " in row[:4]) for n in range(1, 6)]
        for row, words in zip(rows, ("FRESH", "TIRED", "EXHAUSTED", "OLD", "NOT KNOWN"), strict=True):
            assert words in row
        assert "35 %" in rows[2]
        assert "9 days of 7 days" in rows[3]
        for words in (
            "foot: TRAYS",
            "HEATER WARMING at 20 °C: relay ON",
            "-0.3 K by ice point 2030-02-11, OVER A YEAR OLD: P",
            "room (by the door): ! no answer; never calibrated",
            " H  help   Q  leave",
        ):
            assert words in text


async def test_the_bath_that_is_chosen_tells_why_and_what_to_do(tmp_path):
    async with stage(tmp_path, with_baths(*BATHS, heater=STOPPED), own_s=0.0) as on:
        await on.press("0", "3", "3")
        text = on.text()
        for words in (
            "3 ► hypo in the stone jar",
            "! Spent: it clears in 2.2 times its fresh time: make a new one",
            "cleared in 4:46, 2.2 times its fresh time of 2:10",
            "Watcher “not warming”",
            "Then W sets it anew",
        ):
            assert words in text
        await on.show(with_baths(FRESH, heater=TOO_WARM))
        assert "about 190 g of ice in the jacket" in on.text()
        assert "1 ► pyro-soda 1" in on.text()


@pytest.mark.parametrize("formula", shipped_formulas().values(), ids=lambda one: one.name)
async def test_what_to_beware_of_stands_before_a_bath_is_made_whole_on_the_smallest_screen(tmp_path, formula):
    holds = FormulaView(
        name=formula.name,
        title=formula.title,
        kind=formula.kind,
        keeps_s=None,
        cm2_per_l=None,
        substances=substances_of(formula),
        cautions=formula.cautions,
    )
    async with stage(tmp_path, with_baths(*BATHS, formulas=(holds,)), own_s=0.0) as on:
        await on.press("0", "3", "m", "1", "1")
        shown = " ".join(on.text().split())
        before, _, _ = shown.partition("How much")
        for caution in bottle_cautions(substances_of(formula), formula.cautions):
            assert caution in before
        assert "How much" in shown
        assert "Enter" in shown


CASES = [
    ("m 1 2 2 5 0 enter enter", ALL, [MakeBath(formula="hydroquinone", volume_ml=250.0)]),
    (
        "m 2 1 1 space l enter j a r enter",
        ALL,
        [MakeBath(formula="plain-hypo", volume_ml=1000.0, name="jar")],
    ),
    ("m 1 1 w e t enter", ALL, []),
    ("d y", ALL, [DiscardBath(bath="pyro-soda 1")]),
    ("d enter", ALL, []),
    ("down down d y", ALL, [DiscardBath(bath="hypo in the stone jar")]),
    ("enter 1 1", ALL, [NameBath(bath="pyro-soda 1", step=0, lane=1)]),
    ("enter 1 2", FIXER, [NameBath(bath="hypo in the stone jar", step=2, lane=2)]),
    ("enter 2", ALL, [SetHeat(bath="pyro-soda 1")]),
    ("enter 2 1 : 3 0 enter 2", FIXER, [SeeClearing(bath=EXHAUSTED.name, clearing_s=90.0, fresh=True)]),
    ("enter 3 backspace 5 enter", FIXER, [DateBath(bath=EXHAUSTED.name, made="2031-05-05")]),
    ("enter 3 y e s t e r d a y enter", FIXER, [DateBath(bath=EXHAUSTED.name, made="2031-05-03")]),
    ("enter 3 s o o n enter", FIXER, []),
    ("w 1 2 1 enter", ALL, [SetHeat(set_degC=21.0)]),
    ("w 2", ALL, [StopHeat()]),
    ("w 1", with_baths(heater=STOPPED), [SetHeat(set_degC=20.0)]),
    ("p 2 1", ALL, [CalibrateProbe(probe="jacket", against="ice point")]),
    (
        "p 1 2 1 8 . 5 enter",
        ALL,
        [CalibrateProbe(probe="long probe", against="reference thermometer", reference_degC=18.5)],
    ),
    ("t 1 9 enter", ALL, [SayTemperature(bath_degC=19.0, lane=1)]),
    ("enter", with_baths(), []),
    ("m w p t", bench(), []),
]


async def test_keys_ask_the_bench(tmp_path):
    async with stage(tmp_path, ALL) as on:
        await on.press("0", "3")
        page = on.screen.screen
        assert isinstance(page, BathsPage)
        # Nothing is looked at here, so nothing is drawn: that is most of what a key costs.
        with on.screen.batch_update():
            for keys, view, asked in CASES:
                await on.show(view)
                page._chosen = ""
                on.link.asked.clear()
                on.rest()
                await on.press(*keys.split())
                assert on.link.asked == asked, keys
                await on.press("escape")
