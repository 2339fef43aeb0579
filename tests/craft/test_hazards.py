"""Every substance says what it can do to a person, by a sheet that is named, or says that none was read.

The codes were read on 2026-12-01 from the sheets named in `hazards.HAZARDS`: agencies' first, then makers'.
"""

from __future__ import annotations

import pytest

from firmware_py.craft.hazards import (
    HAZARDS,
    NONE_LISTED,
    STATEMENTS,
    UNREAD,
    bottle_lines,
    sheet_lines,
    substance_lines,
)
from firmware_py.craft.mixing import cautions_of, substances_of
from firmware_py.craft.shelf import SHELF
from firmware_py.data.formulary import shipped_formulas

# For these no sheet could be read yet; they stand in no shipped formula. This list may only shrink.
UNREAD_YET = {
    "glycin",
    "amidol",
    "paraminophenol hydrochloride",
    "chlorhydroquinone",
    "phenidone",
    "ascorbic acid",
    "sodium bicarbonate",
    "tartaric acid",
    "ammonium bromide",
    "potassium iodide",
    "sodium chloride",
    "sodium sulphate",
}


def test_the_shelf_and_the_sheets_name_the_same_substances():
    assert {substance.name for substance in SHELF} == set(HAZARDS)


@pytest.mark.parametrize("name", sorted(HAZARDS))
def test_a_substance_has_hazards_or_none_listed_on_a_sheet_named_or_says_that_none_was_read(name):
    hazards = HAZARDS[name]
    assert set(hazards.codes) <= set(STATEMENTS)
    assert (UNREAD in hazards.words) is (not hazards.sheet) is (name in UNREAD_YET)
    assert hazards.words
    if not hazards.codes and not hazards.also:
        assert hazards.words in {UNREAD, NONE_LISTED}


@pytest.mark.parametrize("formula", sorted(shipped_formulas()))
def test_no_shipped_formula_holds_a_substance_whose_sheet_was_not_read(formula):
    names = substances_of(shipped_formulas()[formula])
    assert [name for name in names if not HAZARDS[name].sheet] == []
    assert len(sheet_lines(names)) == len(names)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        # H318: NITE Japan 07-meti-2007e; the others: a maker's sheet, msdssafe.com 8942
        ("hydroquinone", ("damages the eyes", "suspected of causing cancer", "very toxic to water life")),
        # ICSC 1528: redness and pain of the eyes; "do not let this chemical enter the environment"
        ("metol", ("eyes", "very toxic to water life")),
        # Kremer Pigmente 64000: H319 H360D H360F
        ("borax", ("fertility and the unborn child",)),
        # Molbase: H360FD
        ("boric acid", ("fertility and the unborn child",)),
        # Carl Roth 4249: H301 H311 H315 H318 H341
        ("pyrocatechin", ("toxic if swallowed", "toxic through the skin", "damages the eyes")),
        # the persulphates as one category: OECD SIDS 2005
        ("ammonium persulphate", ("asthma", "feeds fire")),
        # ICSC 1175: wheezing; INEOS Calabrian: bronchospasm in sulphite-sensitive people
        ("potassium metabisulphite", ("asthma", "damages the eyes", "toxic gas with acid")),
        ("sodium metabisulphite", ("asthma", "damages the eyes", "toxic gas with acid")),
        # ICSC 1200
        ("sodium sulphite", ("asthma", "allergic")),
    ],
)
def test_what_the_sheets_say_is_said(name, said):
    (line,) = substance_lines((name,))
    assert line.startswith(f"{name}: ")
    for words in said:
        assert words in line


def test_pyrocatechin_is_not_told_to_go_into_cold_water_as_caustic_soda_is():
    (catechin,), (soda,) = substance_lines(("pyrocatechin",)), substance_lines(("sodium hydroxide",))
    assert "cold water" in soda
    assert "cold water" not in catechin


def test_the_gravest_is_said_first():
    (line,) = substance_lines(("hydroquinone",))
    assert line.index("damages the eyes") < line.index("cancer") < line.index("harmful if swallowed")


def test_a_bottle_says_each_hazard_once_and_the_graver_for_the_lesser():
    holds, said = bottle_lines(("metol", "hydroquinone", "potassium carbonate"))
    assert holds == "Holds metol, hydroquinone, potassium carbonate."
    assert said.count("harmful if swallowed") == 1
    assert "damages the eyes for life" in said
    assert "irritates the eyes badly" not in said
    assert said.count("water life") == 1
    assert bottle_lines(("phenidone",))[-1] == f"phenidone: {UNREAD}."


def test_goggles_stand_first_and_the_data_sheet_last_on_every_bath():
    for formula in shipped_formulas().values():
        first, *_, last = cautions_of(formula)
        assert first.startswith("Wear goggles and gloves")
        assert last == "Follow the safety data sheet and local rules."
