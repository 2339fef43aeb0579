"""A strip: a piece of a page as wide as the page that is never broken, with what is drawn on it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from firmware_py.report.sheets.page import Curve
from firmware_py.report.told import plain

TEXT_PT, SMALL_PT, HEAD_PT, TITLE_PT, BANNER_PT = 7.6, 6.6, 9.0, 16.0, 24.0
LINE = 0.44  # height of a line [mm] for each point of its type: 1.25 times the type

# Says how wide [mm] some words are at a size [pt], upright or bold.
Measure = Callable[[str, float, bool], float]


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text by its left end (its right one with ``from_right``) and its base line [mm]."""

    x_mm: float
    y_mm: float
    words: str
    size_pt: float = TEXT_PT
    bold: bool = False
    from_right: bool = False


@dataclass(frozen=True, slots=True)
class Rule:
    """A straight rule between two points [mm], ``weight_pt`` [pt] thick."""

    x_mm: float
    y_mm: float
    to_x_mm: float
    to_y_mm: float
    weight_pt: float = 0.4


@dataclass(frozen=True, slots=True)
class Picture:
    """A curve in its place [mm]."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    curve: Curve


Item = Line | Rule | Picture


@dataclass(frozen=True, slots=True)
class Strip:
    """So high [mm], with these items counted from its top left; ``keep`` holds it to the next strip."""

    height_mm: float
    items: tuple[Item, ...] = ()
    keep: bool = False


def moved(item: Item, right_mm: float, down_mm: float) -> Item:
    """Return an item in another place."""
    if isinstance(item, Rule):
        return replace(
            item,
            x_mm=item.x_mm + right_mm,
            y_mm=item.y_mm + down_mm,
            to_x_mm=item.to_x_mm + right_mm,
            to_y_mm=item.to_y_mm + down_mm,
        )
    return replace(item, x_mm=item.x_mm + right_mm, y_mm=item.y_mm + down_mm)


def wrapped(
    words: str, width_mm: float, measure: Measure, size_pt: float, *, bold: bool = False
) -> list[str]:
    """Return words in lines no wider than ``width_mm`` [mm]; a word too long for a line is broken."""
    lines: list[str] = []
    here = ""
    for word in plain(words).split():
        longer = f"{here} {word}" if here else word
        if measure(longer, size_pt, bold) <= width_mm:
            here = longer
            continue
        lines += [here] if here else []
        *whole, here = _broken(word, width_mm, measure, size_pt, bold=bold)
        lines += whole
    return [*lines, here]


def stacked(
    lines: Iterable[str],
    x_mm: float,
    size_pt: float = TEXT_PT,
    *,
    bold: bool = False,
    from_right: bool = False,
) -> list[Item]:
    """Return lines under one another, the first at the top of its strip."""
    high_mm = LINE * size_pt
    return [
        Line(x_mm, (n + 0.78) * high_mm, words, size_pt, bold, from_right) for n, words in enumerate(lines)
    ]


def height_mm(lines: int, size_pt: float = TEXT_PT) -> float:
    """Return how high [mm] so many lines stand."""
    return lines * LINE * size_pt


def _broken(word: str, width_mm: float, measure: Measure, size_pt: float, *, bold: bool) -> list[str]:
    pieces: list[str] = []
    here = ""
    for sign in word:
        if here and measure(here + sign, size_pt, bold) > width_mm:
            pieces.append(here)
            here = ""
        here += sign
    return [*pieces, here]
