"""A development as a picture of half blocks: temperature against minutes, marks by number.

Half blocks are what the bare console has as well as every terminal; braille and quadrants it has not.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from firmware_py.service.book_questions import CurvePointView, CurveView

AXIS = 6  # columns of the temperatures on the left
LEAST_SPAN_K = 1.0
ROUND_MIN = (0.5, 1, 2, 5, 10, 15, 30, 60, 120)

Dot = tuple[int, int]


@dataclass(slots=True)
class _Sheet:
    """Dots, two above one another in a cell, and signs that stand over them."""

    width: int
    rows: int
    solid: set[Dot] = field(default_factory=set)
    grey: set[Dot] = field(default_factory=set)
    signs: dict[Dot, str] = field(default_factory=dict)

    def cell(self, x: int, row: int) -> str:
        """Return what stands in a cell."""
        if (x, row) in self.signs:
            return self.signs[x, row]
        upper, lower = (x, 2 * row) in self.solid, (x, 2 * row + 1) in self.solid
        if upper or lower:
            return "█" if upper and lower else "▀" if upper else "▄"
        return "░" if (x, 2 * row) in self.grey or (x, 2 * row + 1) in self.grey else " "


@dataclass(frozen=True, slots=True)
class _Scale:
    low_degC: float
    high_degC: float
    longest_s: float
    width: int
    dots: int

    def x(self, elapsed_s: float) -> int:
        return round(min(1.0, max(0.0, elapsed_s / self.longest_s)) * (self.width - 1))

    def y(self, bath_degC: float) -> int:
        share = (self.high_degC - bath_degC) / (self.high_degC - self.low_degC)
        return round(min(1.0, max(0.0, share)) * (self.dots - 1))


def drawn(curves: Sequence[CurveView], width: int, height: int) -> list[str]:
    """Return the picture of one development, or of two, in rows of ``width`` columns; too small: none."""
    curves = [curve for curve in curves if curve.points][:2]
    if not curves or width < AXIS + 12 or height < 3:
        return []
    rows = height - 1
    sheet = _Sheet(width - AXIS, rows)
    scale = _scale(curves, sheet)
    for curve in curves[1:]:
        _line(sheet.grey, sheet.grey, curve.points, scale)
    _line(sheet.solid, sheet.grey, curves[0].points, scale)
    _reference(sheet, curves[0], scale)
    _marks(sheet, curves[0], scale)
    labels = {0: scale.high_degC, rows - 1: scale.low_degC}
    picture = [
        f"{f'{labels[row]:.1f} ' if row in labels else '':>{AXIS}}"
        + "".join(sheet.cell(x, row) for x in range(sheet.width))
        for row in range(rows)
    ]
    return [*picture, _minutes(scale, width)]


def _scale(curves: Sequence[CurveView], sheet: _Sheet) -> _Scale:
    degrees = [point.bath_degC for curve in curves for point in curve.points]
    degrees += [curve.reference_degC for curve in curves[:1]]
    low, high = min(degrees), max(degrees)
    spare = max(0.0, LEAST_SPAN_K - (high - low)) / 2 + 0.1
    longest_s = max(1.0, *(curve.points[-1].elapsed_s for curve in curves))
    return _Scale(low - spare, high + spare, longest_s, sheet.width, 2 * sheet.rows)


def _line(read: set[Dot], guessed: set[Dot], points: Sequence[CurvePointView], scale: _Scale) -> None:
    """Join the points; where no thermometer was read, among the ``guessed`` dots."""
    before: Dot | None = None
    for point in points:
        here = scale.x(point.elapsed_s), scale.y(point.bath_degC)
        (read if point.read else guessed).update(_between(before or here, here))
        before = here


def _between(start: Dot, end: Dot) -> list[Dot]:
    steps = max(abs(end[0] - start[0]), abs(end[1] - start[1]), 1)
    return [
        (
            round(start[0] + (end[0] - start[0]) * n / steps),
            round(start[1] + (end[1] - start[1]) * n / steps),
        )
        for n in range(steps + 1)
    ]


def _reference(sheet: _Sheet, curve: CurveView, scale: _Scale) -> None:
    """Draw the reference temperature as a dotted line, where no curve is."""
    row = scale.y(curve.reference_degC) // 2
    for x in range(0, sheet.width, 3):
        if sheet.cell(x, row) == " ":
            sheet.signs[x, row] = "·"


def _marks(sheet: _Sheet, curve: CurveView, scale: _Scale) -> None:
    """Set each mark's number over the curve, or under it where the top is in the way."""
    for mark in curve.marks:
        near = min(curve.points, key=lambda point: abs(point.elapsed_s - mark.elapsed_s))
        row = scale.y(near.bath_degC) // 2
        at = row - 1 if row > 0 else row + 1
        x = min(scale.x(mark.elapsed_s), sheet.width - len(str(mark.number)))
        for n, digit in enumerate(str(mark.number)):
            sheet.signs[x + n, at] = digit


def _minutes(scale: _Scale, width: int) -> str:
    """Return the line of minutes under the picture."""
    longest_min = scale.longest_s / 60
    step = next((one for one in ROUND_MIN if longest_min / one <= max(2, scale.width // 9)), ROUND_MIN[-1])
    line = [" "] * width
    for n in range(math.floor(longest_min / step) + 1):
        words = f"{n * step:g}" + (" min" if n == 0 else "")
        at = AXIS + scale.x(n * step * 60)
        if at + len(words) <= width:
            line[at : at + len(words)] = words
    return "".join(line)
