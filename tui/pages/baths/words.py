"""The baths that stand on the bench in words: what is left of each, how old it is, what to think of it."""

from __future__ import annotations

from typing import Literal

from firmware_py.craft.fixing import fixer_verdict
from firmware_py.craft.mixing import bottle_cautions
from firmware_py.facts.views.upkeep import BathView, FormulaView
from tui.pages.shared.time_words import cut, printable, time_words

Verdict = Literal["FRESH", "GOOD", "TIRED", "EXHAUSTED", "OLD", "NOT KNOWN"]
DAY_S, HOUR_S = 86400.0, 3600.0
BAR_COLUMNS = 8
# Columns of a line in the list; the name gets what is left.
VERDICT_COLUMNS, LEFT_COLUMNS, AGE_COLUMNS = 9, 14, 19
# So that on a wide screen the eye does not lose its row.
MOST_NAME_COLUMNS = 44
# Wide enough for where the figures are from.
WIDE_COLUMNS = 110
# A development that takes a fifth longer than in the fresh bath. Common practice, no source.
TIRED_TIMES = 1.2
WARNED: frozenset[Verdict] = frozenset({"EXHAUSTED", "OLD"})


def verdict(bath: BathView) -> Verdict:
    """Return what to think of a bath, in a word."""
    if bath.state == "too old":
        return "OLD"
    if bath.against or bath.state == "used up":
        return "EXHAUSTED"
    if bath.state == "nearly done" or _is_slow(bath):
        return "TIRED"
    if bath.state == "not known":
        return "NOT KNOWN"
    return "GOOD" if bath.runs or bath.done_cm2 else "FRESH"


def formula_cautions(formula: FormulaView) -> tuple[str, ...]:
    """Return what to beware of before a bath is made by a formula."""
    return tuple(map(printable, bottle_cautions(formula.substances, formula.cautions)))


def bath_heads(width: int) -> str:
    """Return what stands above the list: what each of its columns tells."""
    heads = f"{'judged':<{VERDICT_COLUMNS}} {'left by area':<{LEFT_COLUMNS}} age, of its keeping"
    return cut(f"     {'bath':<{_name_columns(width)}} {heads}", width)


def bath_line(bath: BathView, number: int, width: int, *, here: bool) -> str:
    """Return a bath in one line: its key, name, verdict, what is left, age."""
    name_columns = _name_columns(width)
    name = cut(printable(bath.name), name_columns)
    key = str(number) if number <= 9 else " "
    word = verdict(bath)
    sign = "►" if here else "!" if word in WARNED else " "
    line = f" {key} {sign} {name:<{name_columns}} {word:<{VERDICT_COLUMNS}} {_left(bath):<{LEFT_COLUMNS}} "
    return cut(f"{line}{age_words(bath)}", width)


def bath_details(bath: BathView, width: int) -> list[str]:
    """Return the lines that tell all about one bath, the most pressing first."""
    lines = [f"! {_sentence(bath.against)}: make a new one"] if bath.against else []
    lines += [printable(words) for words in bath.advice]
    lines.append(_what(bath))
    if width >= WIDE_COLUMNS:
        lines += [f"{_area(bath)}{_by(bath.capacity_source)}", f"{_keeping(bath)}{_by(bath.keeping_source)}"]
    else:
        lines.append(f"{_area(bath)}. {_keeping(bath)}")
    lines += _speed(bath)
    return [cut(f" {line}", width) for line in lines if line]


def age_words(bath: BathView) -> str:
    """Return how old a bath is, of how long it keeps."""
    if bath.age_s is None:
        return "age not known"
    age = span(bath.age_s)
    return f"{age} of {span(bath.keeps_s)}" if bath.keeps_s is not None else f"{age} old"


def span(time_s: float) -> str:
    """Return a long time as a person says it: ``3 days``, ``5 h``, ``12 min``."""
    if time_s >= 2 * DAY_S:
        return f"{time_s / DAY_S:.0f} days"
    if time_s >= 2 * HOUR_S:
        return f"{time_s / HOUR_S:.0f} h"
    return f"{time_s / 60.0:.0f} min"


def _name_columns(width: int) -> int:
    return min(MOST_NAME_COLUMNS, max(6, width - VERDICT_COLUMNS - LEFT_COLUMNS - AGE_COLUMNS - 8))


def _by(source: str) -> str:
    return f" ({printable(source)})" if source else ""


def _is_slow(bath: BathView) -> bool:
    if bath.times_longer is not None and bath.times_longer >= TIRED_TIMES:
        return True
    if bath.clearing_s is None or bath.fresh_clearing_s is None:
        return False
    return fixer_verdict(bath.clearing_s, bath.fresh_clearing_s).state != "fresh"


def _left(bath: BathView) -> str:
    if bath.share_done is None:
        return "not known"
    share = min(1.0, max(0.0, 1.0 - bath.share_done))
    full = round(share * BAR_COLUMNS)
    return f"{'█' * full}{'░' * (BAR_COLUMNS - full)} {100 * share:3.0f} %"


def _what(bath: BathView) -> str:
    made = f"{bath.volume_ml:.0f} ml of {printable(bath.title)}, made {bath.made_utc[:10]}"
    warmth = f", works at {bath.works_at_degC:.4g} °C" if bath.works_at_degC is not None else ""
    return f"{bath.kind.capitalize()}: {made}{warmth}"


def _area(bath: BathView) -> str:
    runs = "no plate yet" if not bath.runs else f"{bath.runs} run{'s' if bath.runs > 1 else ''}"
    if bath.left_cm2 is None:
        return f"Did {bath.done_cm2:.0f} cm² ({runs}), of nobody knows how much"
    whole_cm2 = bath.done_cm2 + bath.left_cm2
    return f"Did {bath.done_cm2:.0f} of {whole_cm2:.0f} cm² ({runs})"


def _keeping(bath: BathView) -> str:
    if bath.keeps_s is None:
        return "Nobody says how long it keeps"
    if bath.left_s is None:
        return f"Keeps {span(bath.keeps_s)}"
    left = f"{span(bath.left_s)} left" if bath.left_s > 0 else f"over by {span(-bath.left_s)}"
    return f"Keeps {span(bath.keeps_s)}: {left}"


def _speed(bath: BathView) -> list[str]:
    if bath.kind != "fixer":
        return []
    if bath.clearing_s is None:
        return ["No plate was seen to clear in it yet"]
    cleared = f"The last plate cleared in {time_words(round(bath.clearing_s))}"
    if bath.fresh_clearing_s is None or bath.times_fresh is None:
        return [f"{cleared}; its fresh time is not known"]
    fresh = time_words(round(bath.fresh_clearing_s))
    return [f"{cleared}, {bath.times_fresh:.1f} times its fresh time of {fresh}"]


def _sentence(words: str) -> str:
    plain = printable(words)
    return plain[:1].upper() + plain[1:]
