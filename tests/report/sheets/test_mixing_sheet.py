"""The mixing card on paper holds every amount in its order, each with a box to tick, and every caution."""

from __future__ import annotations

import pytest

from firmware_py.craft.card import card_lines
from firmware_py.craft.mixing import mixing_card
from firmware_py.craft.salts import salt_named
from firmware_py.data.formulary import shipped_formula, shipped_formulas
from firmware_py.report.sheets.html import html_of
from firmware_py.report.sheets.mixing_sheet import BOTTLES, mixing_page
from firmware_py.report.sheets.page import TICK, Page, Table, Words
from tests.report.sheets.making import Read

MORE_ML = 750.0


def tables(page: Page) -> list[Table]:
    return [block for block in page.blocks if isinstance(block, Table)]


@pytest.mark.parametrize("name", sorted(shipped_formulas()))
def test_every_amount_stands_in_its_order_with_a_box_to_tick(name):
    card = mixing_card(shipped_formula(name), MORE_ML)
    found = tables(mixing_page(card))
    assert len(found) == len(card.solutions)
    for table, solution in zip(found, card.solutions, strict=True):
        assert {row[0] for row in table.rows} == {TICK}
        assert [row[2] for row in table.rows if row[2].partition(" ")[0] != "water"] == [
            part.salt.name for part in solution.parts
        ]
        for row, part in zip(table.rows[1:], solution.parts, strict=False):
            shown = part.weighing.shown if part.weighing and part.weighing.weigh_g else None
            assert shown is None or row[1] == shown
            assert part.asked.text in row[3]


@pytest.mark.parametrize("name", sorted(shipped_formulas()))
def test_nothing_that_the_card_says_beside_its_amounts_is_wanting(name):
    card = mixing_card(shipped_formula(name), MORE_ML)
    said = Read(html_of(mixing_page(card), "A4").decode()).text
    for line in [
        *card.cautions,
        *card.sheets,
        *card.formula.remarks,
        card.formula.source,
        *card_lines(card)[-3:],
    ]:
        assert line.strip() in said
    assert "Follow the safety data sheet and local rules." in said
    assert BOTTLES in said


def test_another_jar_is_said():
    jar = salt_named("sodium carbonate monohydrate")
    card = mixing_card(shipped_formula("pyro-soda"), 1000, have=(jar,))
    rows = [row for table in tables(mixing_page(card)) for row in table.rows]
    (carbonate,) = (row for row in rows if row[2] == jar.name)
    assert "instead of sodium carbonate decahydrate" in carbonate[3]


def test_a_balance_too_coarse_is_said_with_what_would_do():
    """1.71 g of bromide for a litre, on a balance that shows 5 g: 17.1 ml of a 10 % solution hold it."""
    card = mixing_card(shipped_formula("hydroquinone-caustic"), 1000, balance_g=5.0)
    rows = [row for table in tables(mixing_page(card)) for row in table.rows]
    (bromide,) = (row for row in rows if row[2] == "potassium bromide")
    assert bromide[1] == "too little"
    assert "below the balance" in bromide[3]
    assert "better: 17.1 ml of a 10 % solution" in bromide[3]


@pytest.mark.parametrize("name", sorted(shipped_formulas()))
def test_the_cautions_stand_first_in_a_frame(name):
    card = mixing_card(shipped_formula(name), 500)
    framed = mixing_page(card).blocks[0]
    assert isinstance(framed, Words)
    assert framed.framed
    assert framed.lines == (*card.cautions, BOTTLES)
    assert framed.title == "Beware"
