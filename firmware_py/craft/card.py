"""A mixing card in words for the bench, and in figures for other programs."""

from __future__ import annotations

from collections.abc import Iterator

from firmware_py.craft.formula import Formula
from firmware_py.craft.mixing import STOCK_PERCENT, Card, CardPart, CardSolution
from firmware_py.craft.saying import say_temperature, say_time
from firmware_py.craft.weighing import WORST_ROUNDING_PERCENT, Weighing

SHEETS = "Cautions by these data sheets; a newer one of your supplier goes before them:"

Figure = None | bool | float | str | list["Figure"] | dict[str, "Figure"]


def card_lines(card: Card) -> list[str]:
    """Return the card as lines of plain text: what to beware of, then in the order of doing. Source: own."""
    formula = card.formula
    lines = [f"{formula.title}: {say_batch(card.make_ml)}", f"  {formula.source}"]
    lines += ["", *(f"! {caution}" for caution in card.cautions), ""]
    if formula.measures:
        lines.append(f"  {formula.measures}; {_column(card)}")
    for solution in card.solutions:
        lines += ["", *_solution_lines(solution, alone=len(card.solutions) == 1)]
    lines += ["", *pouring_lines(card)] if card.working or formula.working.advice else []
    lines += ["", *use_lines(formula)] if any(use_lines(formula)) else []
    lines += ["", *rounding_lines(card), *formula.remarks, "", SHEETS, *(f"  {one}" for one in card.sheets)]
    return lines


def card_figures(card: Card) -> dict[str, Figure]:
    """Return the card as figures, each key with its unit. Source: own."""
    formula = card.formula
    return {
        "formula": formula.name,
        "title": formula.title,
        "kind": formula.kind,
        "source": formula.source,
        "measures": formula.measures,
        "column": card.column,
        "make_ml": card.make_ml,
        "balance_g": card.balance_g,
        "worst_rounding_percent": card.worst_rounding_percent,
        "enough_ml": card.enough_ml,
        "solutions": [_solution_figures(solution) for solution in card.solutions],
        "working": [{"of": name, "volume_ml": volume_ml} for name, volume_ml in card.working],
        **_use_figures(formula),
        "remarks": list(formula.remarks),
        "cautions": list(card.cautions),
        "data_sheets": list(card.sheets),
    }


def _column(card: Card) -> str:
    if not card.formula.has_metric_column:
        return "the weights as printed"
    return "the weights as printed" if card.column == "printed" else "the metric column"


# --- lines ---


def _solution_lines(solution: CardSolution, *, alone: bool) -> Iterator[str]:
    if not alone:
        yield f"Solution {solution.name}"
    yield f"  Begin with {_start(solution)}"
    for number, part in enumerate(solution.parts, 1):
        yield from _part_lines(number, part)
    if solution.made_up:
        yield f"  Water to make {say_batch(solution.water_ml)}"
    else:
        yield f"  {say_batch(solution.water_ml)} of water in all; with the salts it comes to a little more"
    yield from (f"  {line}" for line in solution.advice)


def _start(solution: CardSolution) -> str:
    warmth = (
        "" if solution.start_degC is None else f" at about {say_temperature(solution.start_degC, decimals=0)}"
    )
    return f"{say_batch(solution.start_ml)} of water{warmth}"


def _part_lines(number: int, part: CardPart) -> Iterator[str]:
    amount = say_batch(part.measure_ml or 0.0)
    error = ""
    if part.weighing is not None:
        amount, error = _weight(part.weighing), f" ({part.weighing.grams:.4g} g, {_error(part.weighing)})"
    yield f"  {number}. {amount:>10}  {part.salt.name}{error}; printed {part.asked.text}"
    if part.instead_of is not None:
        yield f"      instead of {part.instead_of.name}"
    if part.stock_ml is not None:
        yield f"      better: {part.stock_ml:.3g} ml of a {STOCK_PERCENT:g} % solution"
    yield from (f"      {line}" for line in (part.remark, part.advice) if line)


def _weight(weighing: Weighing) -> str:
    return weighing.shown if weighing.weigh_g else "too little"


def _error(weighing: Weighing) -> str:
    return f"{weighing.rounding_percent:+.1f} %" if weighing.weigh_g else "below the balance"


def pouring_lines(card: Card) -> Iterator[str]:
    """Yield what is poured together for use. Source: the formula's."""
    if card.working:
        yield "For use: " + " + ".join(
            f"{say_batch(volume_ml)} of {_what(name)}" for name, volume_ml in card.working
        )
    if card.formula.working.advice:
        yield card.formula.working.advice


def _what(name: str) -> str:
    return name if name == "water" else f"solution {name}"


def use_lines(formula: Formula) -> list[str]:
    """Return what print says of keeping, capacity and development. Source: the formula's."""
    return [*_keeping_lines(formula), *_capacity_lines(formula), *_development_lines(formula)]


def _keeping_lines(formula: Formula) -> Iterator[str]:
    keeping = formula.keeping
    if keeping is None:
        return
    spans = [f"unmixed {_span(keeping.unmixed_s)}"] if keeping.unmixed_s else []
    spans += [f"mixed {_span(keeping.mixed_s)}"] if keeping.mixed_s else []
    yield f"Keeps {', '.join(spans)}: {keeping.source}"


def _capacity_lines(formula: Formula) -> Iterator[str]:
    if formula.capacity is not None:
        yield f"Does {formula.capacity.cm2_per_l:.0f} cm2 of plate a litre: {formula.capacity.source}"


def _development_lines(formula: Formula) -> Iterator[str]:
    data = formula.development
    if data is None:
        return
    if data.reference_degC is not None:
        yield f"Reference temperature {say_temperature(data.reference_degC)}"
    if data.time_s is not None:
        yield f"Develop for {say_time(data.time_s)}: {data.time_source}"
    if data.factor is not None:
        yield f"Factor {data.factor:g}: {data.factor_source}"
    if data.coefficient:
        yield f"Temperature coefficient {data.coefficient}: {data.coefficient_source}"
    if data.low_degC is not None and data.high_degC is not None:
        yield f"Good from {say_temperature(data.low_degC)} to {say_temperature(data.high_degC)}"


def rounding_lines(card: Card) -> Iterator[str]:
    """Yield what the balance costs, and what batch would do. Source: arithmetic."""
    worst = f"{card.worst_rounding_percent:.1f} %"
    yield f"On a balance that shows {card.balance_g:g} g the worst error of rounding is {worst}"
    if card.enough_ml is not None:
        yield (
            f"That is over {WORST_ROUNDING_PERCENT:g} %: a finer balance, or at least "
            f"{say_batch(_rounded_up(card.enough_ml))}, would do"
        )


def say_batch(volume_ml: float) -> str:
    """Say a volume [ml] as a measuring glass shows it. Source: own."""
    return f"{volume_ml:.0f} ml" if volume_ml >= 100 else f"{volume_ml:.3g} ml"


def _rounded_up(volume_ml: float) -> float:
    step = 10.0 ** max(0, len(str(int(volume_ml))) - 2)
    return -(-volume_ml // step) * step


def _span(time_s: float) -> str:
    return f"{time_s / 86_400:.3g} days" if time_s >= 2 * 86_400 else say_time(time_s)


# --- figures ---


def _solution_figures(solution: CardSolution) -> dict[str, Figure]:
    return {
        "name": solution.name,
        "water_ml": solution.water_ml,
        "water_is": "to make" if solution.made_up else "as it is",
        "start_ml": solution.start_ml,
        "start_degC": solution.start_degC,
        "parts": [_part_figures(part) for part in solution.parts],
        "advice": list(solution.advice),
    }


def _part_figures(part: CardPart) -> dict[str, Figure]:
    weighing = part.weighing
    return {
        "salt": part.salt.name,
        "printed": part.asked.text,
        "grams": weighing.grams if weighing else None,
        "weigh_g": weighing.weigh_g if weighing else None,
        "rounding_percent": weighing.rounding_percent if weighing else None,
        "measure_ml": part.measure_ml,
        "instead_of": part.instead_of.name if part.instead_of else None,
        "ten_percent_ml": part.stock_ml,
        "remark": part.remark,
        "advice": part.advice,
    }


def _use_figures(formula: Formula) -> dict[str, Figure]:
    keeping, capacity, data = formula.keeping, formula.capacity, formula.development
    return {
        "keeps_unmixed_s": keeping.unmixed_s if keeping else None,
        "keeps_mixed_s": keeping.mixed_s if keeping else None,
        "keeping_source": keeping.source if keeping else None,
        "capacity_cm2_per_l": capacity.cm2_per_l if capacity else None,
        "capacity_source": capacity.source if capacity else None,
        "reference_degC": data.reference_degC if data else None,
        "coefficient": data.coefficient if data else None,
        "ln_per_K": data.ln_per_K if data else None,
        "coefficient_source": data.coefficient_source if data else None,
        "low_degC": data.low_degC if data else None,
        "high_degC": data.high_degC if data else None,
        "time_s": data.time_s if data else None,
        "factor": data.factor if data else None,
        "factor_source": data.factor_source if data else None,
    }
