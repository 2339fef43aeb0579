"""From a formula to a mixing card: this much of the bath, from the jars at hand, on this balance."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from firmware_py.craft.formula import Amount, Column, Formula, Part, Solution
from firmware_py.craft.hazards import DATA_SHEET, GEAR, bottle_lines, sheet_lines, substance_lines
from firmware_py.craft.percentage import volume_holding_ml
from firmware_py.craft.refusal import Refused
from firmware_py.craft.salts import Salt, instead_of, same_substance
from firmware_py.craft.weighing import USUAL_BALANCE_G, Weighing, smallest_batch_factor, weighed

LARGEST_BATCH_ML = 200_000.0
STOCK_PERCENT = 10.0  # the strength restrainers are kept at; common practice, no source


@dataclass(frozen=True, slots=True)
class CardPart:
    """A line of the card: what goes in next, and how much.

    Either ``weighing`` (a solid) or ``measure_ml`` [ml] (a liquid). ``instead_of`` is the salt that the
    formula names where another is used; ``stock_ml`` [ml] of a 10 % solution holds what the balance is
    too coarse for. Source: own.
    """

    salt: Salt
    asked: Amount
    weighing: Weighing | None = None
    measure_ml: float | None = None
    instead_of: Salt | None = None
    stock_ml: float | None = None
    remark: str = ""
    advice: str = ""


@dataclass(frozen=True, slots=True)
class CardSolution:
    """One solution of the card: its water [ml], what of it to start with [ml], and its parts in order.

    Source: own.
    """

    name: str
    water_ml: float
    made_up: bool
    start_ml: float
    start_degC: float | None
    parts: tuple[CardPart, ...]
    advice: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """A mixing card: everything to weigh and do, what to beware of, and how well the balance serves.

    ``working`` names what is poured together, and how much of each [ml]. ``enough_ml`` [ml] is the
    smallest batch for which rounding would not matter, where it does. ``sheets`` says of each substance by
    which data sheet the ``cautions`` are. Source: own.
    """

    formula: Formula
    column: Column
    make_ml: float
    balance_g: float
    solutions: tuple[CardSolution, ...]
    working: tuple[tuple[str, float], ...]
    worst_rounding_percent: float
    enough_ml: float | None
    cautions: tuple[str, ...]
    sheets: tuple[str, ...]


def substances_of(formula: Formula) -> tuple[str, ...]:
    """Return the names of what a formula holds as printed, once each. Source: the formula's."""
    salts = (part.salt.substance.name for solution in formula.solutions for part in solution.parts)
    return tuple(dict.fromkeys(salts))


def cautions_of(formula: Formula, salts: Iterable[Salt] | None = None) -> tuple[str, ...]:
    """Return what to beware of: what to wear, the salts weighed (else as printed), then the formula's own.

    Source: the formula's and data sheets; defers to data sheets.
    """
    names = substances_of(formula) if salts is None else [salt.substance.name for salt in salts]
    return bath_cautions(names, formula.cautions)


def bottle_cautions(names: Iterable[str], own: Iterable[str]) -> tuple[str, ...]:
    """Return the cautions of `bath_cautions` with each hazard said once, for a label or a small screen.

    Raises KeyError for a name that is not on the shelf. Source: the sheets.
    """
    return tuple(dict.fromkeys((GEAR, *bottle_lines(names), *own, DATA_SHEET)))


def bath_cautions(names: Iterable[str], own: Iterable[str]) -> tuple[str, ...]:
    """Return the cautions of a bath that holds substances of these ``names``, with its formula's ``own``.

    Raises KeyError for a name that is not on the shelf. Source: the sheets.
    """
    return tuple(dict.fromkeys((GEAR, *substance_lines(names), *own, DATA_SHEET)))


def mixing_card(
    formula: Formula,
    make_ml: float,
    *,
    column: Column = "printed",
    have: tuple[Salt, ...] = (),
    balance_g: float = USUAL_BALANCE_G,
) -> Card:
    """Return the card for ``make_ml`` [ml] of the bath, weighed on a balance of ``balance_g`` [g].

    Where ``have`` holds another hydrate of a salt (or, where the formula allows it, the salt of the other
    metal), the card uses that, mole for mole. A formula that names no working parts is scaled by its
    leading solution. Valid above 0 ml and up to 200 l; raises `Refused` outside, for a column the book
    does not print, and for a salt in ``have`` that no part can use.
    Source: arithmetic on the formula's own source.
    """
    if not 0 < make_ml <= LARGEST_BATCH_ML:
        raise Refused(
            f"{make_ml:g} ml can not be mixed", where="--make", allowed="above 0 ml and up to 200 l"
        )
    _refuse_useless(formula, have)
    factors = _factors(formula, make_ml, column)
    solutions = tuple(
        _card_solution(solution, factors[solution.name], column, have, balance_g)
        for solution in formula.solutions
    )
    salts = [part.salt for solution in solutions for part in solution.parts]
    weighings = [part.weighing for solution in solutions for part in solution.parts if part.weighing]
    coarsest = max((smallest_batch_factor(one) for one in weighings if one.is_coarse), default=None)
    return Card(
        formula=formula,
        column=column,
        make_ml=make_ml,
        balance_g=balance_g,
        solutions=solutions,
        working=_working(formula, make_ml),
        worst_rounding_percent=max((abs(one.rounding_percent) for one in weighings), default=0.0),
        enough_ml=None if coarsest is None else make_ml * coarsest,
        cautions=cautions_of(formula, salts),
        sheets=sheet_lines(salt.substance.name for salt in salts),
    )


def printed_batch_ml(formula: Formula, column: Column = "printed") -> float:
    """Return the volume [ml] of bath for which the leading solution is mixed as printed.

    Raises `Refused` for a column the book does not print. Source: arithmetic on the formula's own source.
    """
    leading = formula.solution(formula.working.basis) if formula.working.basis else formula.solutions[0]
    parts = dict(formula.working.parts)
    share = parts[leading.name] / sum(parts.values()) if parts else 1.0
    return leading.water_ml(column) / share


def _factors(formula: Formula, make_ml: float, column: Column) -> dict[str, float]:
    """Return by how much each solution is scaled."""
    if formula.working.parts:
        poured = dict(_working(formula, make_ml))
        return {one.name: poured.get(one.name, 0.0) / one.water_ml(column) for one in formula.solutions}
    leading = formula.solution(formula.working.basis) if formula.working.basis else formula.solutions[0]
    factor = make_ml / leading.water_ml(column)
    return {one.name: factor for one in formula.solutions}


def _working(formula: Formula, make_ml: float) -> tuple[tuple[str, float], ...]:
    total = sum(parts for _, parts in formula.working.parts)
    return tuple((name, make_ml * parts / total) for name, parts in formula.working.parts)


def _card_solution(
    solution: Solution, factor: float, column: Column, have: tuple[Salt, ...], balance_g: float
) -> CardSolution:
    water_ml = solution.water_ml(column) * factor
    return CardSolution(
        name=solution.name,
        water_ml=water_ml,
        made_up=solution.made_up,
        start_ml=water_ml * solution.start_share,
        start_degC=solution.start_degC,
        parts=tuple(_card_part(part, factor, column, have, balance_g) for part in solution.parts),
        advice=solution.advice,
    )


def _card_part(
    part: Part, factor: float, column: Column, have: tuple[Salt, ...], balance_g: float
) -> CardPart:
    asked = part.amount(column)
    if asked.volume_ml is not None:
        return CardPart(part.salt, asked, measure_ml=asked.volume_ml * factor, advice=part.advice)
    assert asked.grams is not None
    used = next((salt for salt in have if _serves(part, salt)), part.salt)
    swap = instead_of(asked.grams * factor, part.salt, used)
    weighing = weighed(swap.grams, balance_g)
    stock = (
        used.substance.active in {"bromide", "ammonium bromide", "potassium iodide"} and weighing.is_coarse
    )
    return CardPart(
        salt=used,
        asked=asked,
        weighing=weighing,
        instead_of=None if used == part.salt else part.salt,
        stock_ml=volume_holding_ml(swap.grams, STOCK_PERCENT) if stock else None,
        remark=swap.remark,
        advice=part.advice,
    )


def _serves(part: Part, salt: Salt) -> bool:
    if same_substance(part.salt, salt):
        return True
    return part.may_be_kin and part.salt.substance.active == salt.substance.active


def _refuse_useless(formula: Formula, have: tuple[Salt, ...]) -> None:
    parts = [part for solution in formula.solutions for part in solution.parts]
    for salt in have:
        if not any(_serves(part, salt) for part in parts):
            names = ", ".join(dict.fromkeys(part.salt.name for part in parts))
            raise Refused(
                f"nothing in {formula.name} can be made with {salt.name}",
                where="--have",
                allowed=f"a form of {names}",
            )
