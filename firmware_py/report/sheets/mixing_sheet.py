"""The mixing card on paper: what to weigh in its order, with boxes to tick, and what to beware of."""

from __future__ import annotations

from firmware_py import __version__
from firmware_py.craft.card import SHEETS, pouring_lines, rounding_lines, say_batch, use_lines
from firmware_py.craft.mixing import STOCK_PERCENT, Card, CardPart, CardSolution
from firmware_py.craft.saying import say_temperature
from firmware_py.report.sheets.page import TICK, Block, Column, Facts, Page, Table, Words
from firmware_py.report.told import Fact

BOTTLES = "Label every bottle with what it is and the day; keep it from children and food."
_COLUMNS = (
    Column("Done", 0.5),
    Column("Amount", 0.9, is_figure=True),
    Column("Of", 2.4),
    Column("As printed, and remarks", 4),
)


def mixing_page(card: Card) -> Page:
    """Return the sheet of a mixing card."""
    formula = card.formula
    alone = len(card.solutions) == 1
    blocks: list[Block] = [
        Words("Beware", (*card.cautions, BOTTLES), framed=True),
        Facts("", (Fact("Mixed on", ""), Fact("By", ""), Fact("Bottle", ""))),
        *(block for solution in card.solutions for block in _solution_blocks(solution, alone=alone)),
        Words("For use", tuple(pouring_lines(card))),
        Words("Keeping and development", tuple(use_lines(formula))),
        Words("How sure", (*rounding_lines(card), *formula.remarks)),
        Words("Data sheets", (SHEETS, *card.sheets)),
    ]
    return Page(
        title=f"{formula.title}: {say_batch(card.make_ml)}",
        under="; ".join(one for one in (formula.source, formula.measures, f"{card.column} column") if one),
        blocks=tuple(block for block in blocks if not isinstance(block, Words) or block.lines),
        foot=f"formula {formula.name} · Embertray {__version__} · check each weight against the book",
    )


def _solution_blocks(solution: CardSolution, *, alone: bool) -> list[Block]:
    title = "Weigh and dissolve in this order" if alone else f"Solution {solution.name}, in this order"
    rows = (_first(solution), *(_part(part) for part in solution.parts), *_last(solution))
    advice: list[Block] = [Words("", solution.advice)] if solution.advice else []
    return [Table(title, _COLUMNS, rows, row_mm=6.5), *advice]


def _first(solution: CardSolution) -> tuple[str, ...]:
    warm = solution.start_degC
    at = "" if warm is None else f" at about {say_temperature(warm, decimals=0)}"
    said = (
        "to begin with" if _more_ml(solution) > 0 else "all of it; with the salts it comes to a little more"
    )
    return (TICK, say_batch(solution.start_ml), f"water{at}", said)


def _last(solution: CardSolution) -> list[tuple[str, ...]]:
    more_ml = _more_ml(solution)
    if more_ml <= 0:
        return []
    if solution.made_up:
        return [(TICK, f"to {say_batch(solution.water_ml)}", "water", "to make the volume")]
    said = f"{say_batch(solution.water_ml)} in all; with the salts it comes to a little more"
    return [(TICK, say_batch(more_ml), "water", said)]


def _more_ml(solution: CardSolution) -> float:
    """Return the water [ml] that is wanted after the salts; where it makes up the volume, at most that."""
    return solution.water_ml if solution.made_up else solution.water_ml - solution.start_ml


def _part(part: CardPart) -> tuple[str, ...]:
    said = [f"printed {part.asked.text}"]
    amount = say_batch(part.measure_ml or 0.0)
    if part.weighing is not None:
        amount = part.weighing.shown if part.weighing.weigh_g else "too little"
        error = (
            f", {part.weighing.rounding_percent:+.1f} %" if part.weighing.weigh_g else ", below the balance"
        )
        said.append(f"exactly {part.weighing.grams:.4g} g{error}")
    if part.instead_of is not None:
        said.append(f"instead of {part.instead_of.name}")
    if part.stock_ml is not None:
        said.append(f"better: {part.stock_ml:.3g} ml of a {STOCK_PERCENT:g} % solution")
    said += [line for line in (part.remark, part.advice) if line]
    return (TICK, amount, part.salt.name, "; ".join(said))
