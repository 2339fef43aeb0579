"""The blocks of a page as strips of text, rules and pictures, for a given width."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from firmware_py.report.sheets.page import Block, Curve, Facts, Page, Table, Words
from firmware_py.report.sheets.strip import (
    BANNER_PT,
    HEAD_PT,
    LINE,
    SMALL_PT,
    TEXT_PT,
    TITLE_PT,
    Item,
    Line,
    Measure,
    Picture,
    Rule,
    Strip,
    height_mm,
    moved,
    stacked,
    wrapped,
)
from firmware_py.report.told import Fact, plain

NAME_MM, GAP_MM, PAD_MM, CURVE_MM, ROOM_MM = 19.0, 4.0, 1.0, 54.0, 5.4


@dataclass(frozen=True, slots=True)
class Setter:
    """Sets blocks into ``width_mm`` [mm], with so many facts beside one another."""

    width_mm: float
    facts_across: int
    measure: Measure

    def page(self, page: Page) -> Iterator[Strip]:
        """Yield the strips of a whole page, from its banner to its foot."""
        if page.banner:
            yield self._banner(page)
        yield self._text([page.title], TITLE_PT, bold=True)
        yield self._text([page.under], TEXT_PT)
        for block in page.blocks:
            yield from self.block(block)
        yield Strip(2.6, (Rule(0, 2.2, self.width_mm, 2.2),), keep=True)
        yield self._text([page.foot], SMALL_PT)

    def block(self, block: Block) -> Iterator[Strip]:
        """Yield the strips of a block under its heading."""
        if block.title:
            yield self._heading(block.title)
        match block:
            case Facts():
                yield from self._facts(block)
            case Table():
                yield from self._table(block)
            case Words():
                yield from self._words(block)
            case Curve():
                picture = Picture(0, 0, self.width_mm, CURVE_MM, block)
                yield Strip(CURVE_MM, (picture,), keep=True)
                yield self._text([block.caption], SMALL_PT)

    def _banner(self, page: Page) -> Strip:
        high = height_mm(1, BANNER_PT) + 1
        spaced = " ".join(plain(page.banner))
        items: list[Item] = [Line(3, 0.5 + 0.8 * (high - 1), spaced, BANNER_PT, bold=True)]
        items.append(Line(self.width_mm - 3, 0.62 * high, plain(page.banner_words), from_right=True))
        return Strip(high + 2, (*items, *self._box(high, 2.4)))

    def _box(self, high: float, weight_pt: float) -> tuple[Rule, ...]:
        wide = self.width_mm
        ends = [(0, 0, wide, 0), (wide, 0, wide, high), (wide, high, 0, high), (0, high, 0, 0)]
        return tuple(Rule(*end, weight_pt) for end in ends)

    def _text(self, lines: list[str], size_pt: float, *, bold: bool = False) -> Strip:
        set_lines = [one for line in lines for one in self._wrap(line, self.width_mm, size_pt, bold=bold)]
        return Strip(
            height_mm(len(set_lines), size_pt) + 0.5, tuple(stacked(set_lines, 0, size_pt, bold=bold))
        )

    def _wrap(
        self, words: str, width_mm: float, size_pt: float = TEXT_PT, *, bold: bool = False
    ) -> list[str]:
        return wrapped(words, width_mm, self.measure, size_pt, bold=bold)

    def _heading(self, title: str) -> Strip:
        lines = self._wrap(title, self.width_mm, HEAD_PT, bold=True)
        high = 1.7 + height_mm(len(lines), HEAD_PT)
        text = [moved(one, 0, 1.7) for one in stacked(lines, 0, HEAD_PT, bold=True)]
        return Strip(high + 0.9, (*text, Rule(0, high + 0.2, self.width_mm, high + 0.2, 1.0)), keep=True)

    # --- facts ---

    def _facts(self, block: Facts) -> Iterator[Strip]:
        row: list[Fact] = []
        for fact in block.facts:
            if row and (fact.is_wide or len(row) == self.facts_across):
                yield self._fact_row(row)
                row = []
            if fact.is_wide:
                yield self._fact(fact, self.width_mm)
            else:
                row.append(fact)
        if row:
            yield self._fact_row(row)

    def _fact_row(self, row: list[Fact]) -> Strip:
        wide = (self.width_mm - GAP_MM * (self.facts_across - 1)) / self.facts_across
        set_facts = [self._fact(fact, wide) for fact in row]
        items = [
            moved(item, place * (wide + GAP_MM), 0)
            for place, strip in enumerate(set_facts)
            for item in strip.items
        ]
        return Strip(max(strip.height_mm for strip in set_facts), tuple(items))

    def _fact(self, fact: Fact, width_mm: float) -> Strip:
        names = self._wrap(fact.name, NAME_MM - 1)
        if not fact.value:
            text = [moved(one, 0, 1.8) for one in stacked(names[:1], 0)]
            return Strip(ROOM_MM, (*text, Rule(NAME_MM, ROOM_MM - 0.6, width_mm, ROOM_MM - 0.6)))
        values = self._wrap(fact.value, width_mm - NAME_MM)
        high = height_mm(max(len(names), len(values))) + 0.3
        return Strip(high, (*stacked(names, 0), *stacked(values, NAME_MM)))

    # --- tables and words ---

    def _table(self, table: Table) -> Iterator[Strip]:
        head = tuple(column.heading for column in table.columns)
        yield self._row(table, head, is_head=True)
        for row in table.rows:
            yield self._row(table, row, is_head=False)

    def _row(self, table: Table, row: tuple[str, ...], *, is_head: bool) -> Strip:
        whole = sum(column.share for column in table.columns)
        items: list[Item] = []
        x_mm, deepest = 0.0, 1
        edges = [0.0]
        for column, cell in zip(table.columns, row, strict=True):
            wide = self.width_mm * column.share / whole
            lines = self._wrap(cell, wide - 2 * PAD_MM)
            at = x_mm + wide - PAD_MM if column.is_figure else x_mm + PAD_MM
            items += [moved(one, 0, 0.4) for one in stacked(lines, at, from_right=column.is_figure)]
            deepest, x_mm = max(deepest, len(lines)), x_mm + wide
            edges.append(x_mm)
        high = height_mm(deepest) + 0.8
        if table.row_mm and not is_head and table.row_mm > high:
            items = [moved(item, 0, (table.row_mm - high) / 2) for item in items]
            high = table.row_mm
        items.append(Rule(0, high, self.width_mm, high, 0.8 if is_head else 0.3))
        if table.row_mm:
            items += [Rule(x, 0, x, high, 0.3) for x in edges]
        if table.row_mm and is_head:
            items.append(Rule(0, 0, self.width_mm, 0, 0.3))
        return Strip(high, tuple(items), keep=is_head)

    def _words(self, block: Words) -> Iterator[Strip]:
        inset = 2.0 if block.framed else 0.0
        lines = [one for line in block.lines for one in self._wrap(line, self.width_mm - 2 * inset)]
        if not block.framed:
            for line in lines:
                yield Strip(LINE * TEXT_PT + 0.2, tuple(stacked([line], 0)))
            return
        high = height_mm(len(lines)) + 2.4
        text = [moved(one, 0, 1.2) for one in stacked(lines, inset)]
        yield Strip(high + 0.6, (*text, *self._box(high, 1.4)))
