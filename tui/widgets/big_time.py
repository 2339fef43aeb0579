"""Digits as large as the room allows, to be read from two metres; only a digit that changes is drawn."""

from __future__ import annotations

from functools import lru_cache

from rich.segment import Segment
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from tui.red.blocks import may_halve

GLYPH_ROWS = 7
LARGEST = 5
# Own drawing: strokes one dot wide, open forms, a foot under the one, so that dim light leaves them apart.
GLYPHS: dict[str, tuple[str, ...]] = {
    "0": (".###.", "#...#", "#...#", "#...#", "#...#", "#...#", ".###."),
    "1": ("..#..", ".##..", "#.#..", "..#..", "..#..", "..#..", "#####"),
    "2": (".###.", "#...#", "....#", "...#.", "..#..", ".#...", "#####"),
    "3": ("####.", "....#", "....#", ".###.", "....#", "....#", "####."),
    "4": ("#..#.", "#..#.", "#..#.", "#####", "...#.", "...#.", "...#."),
    "5": ("#####", "#....", "####.", "....#", "....#", "#...#", ".###."),
    "6": (".###.", "#....", "#....", "####.", "#...#", "#...#", ".###."),
    "7": ("#####", "....#", "...#.", "...#.", "..#..", "..#..", "..#.."),
    "8": (".###.", "#...#", "#...#", ".###.", "#...#", "#...#", ".###."),
    "9": (".###.", "#...#", "#...#", ".####", "....#", "....#", ".###."),
    ".": (".", ".", ".", ".", ".", ".", "#"),
    "/": ("....#", "....#", "...#.", "..#..", ".#...", "#....", "#...."),
    ":": (".", ".", "#", ".", "#", ".", "."),
}


def columns(text: str, scale: int) -> int:
    """Return how many columns ``text`` fills at a scale."""
    return sum(len(GLYPHS[sign][0]) + 1 for sign in text) * scale - scale if text else 0


def rows(scale: int) -> int:
    """Return how many rows a digit fills at a scale: a row holds two dots."""
    return (GLYPH_ROWS * scale + 1) // 2


def scale_for(text: str, width: int, height: int, *, halves: bool = True) -> int:
    """Return the largest scale that fits, or 0 if none does.

    Without ``halves`` an even one: there a dot fills whole cells, which nearly every console font can show.
    """
    scales = (n for n in range(LARGEST, 0, -1) if halves or n % 2 == 0)
    fitting = (n for n in scales if columns(text, n) <= width and rows(n) <= height)
    return next(fitting, 0)


@lru_cache(256)
def drawn(sign: str, scale: int) -> tuple[str, ...]:
    """Return one sign as rows of half blocks, ``scale`` dots for each dot of its drawing."""
    dots = ["".join(dot * scale for dot in line) for line in GLYPHS[sign] for _ in range(scale)]
    if len(dots) % 2:
        dots.append("." * len(dots[0]))
    blocks = {"##": "█", "#.": "▀", ".#": "▄", "..": " "}
    return tuple(
        "".join(blocks[upper + lower] for upper, lower in zip(dots[n], dots[n + 1], strict=True))
        for n in range(0, len(dots), 2)
    )


class BigTime(Widget):
    """Shows a time such as ``12:34`` in the middle of its place."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's word
        super().__init__(id=id)
        self.text = ""
        self._halves = may_halve()

    def show(self, text: str) -> None:
        """Show a time; draw only the digits that differ, if the others stay where they are."""
        before, self.text = self.text, text
        if before == text:
            return
        scale = self._scale(text)
        if len(before) != len(text) or self._scale(before) != scale or _differing(before, text) & {":", "."}:
            self.refresh()
            return
        for n, (old, new) in enumerate(zip(before, text, strict=True)):
            if old != new:
                self.refresh(self._place(n, scale))

    def render_line(self, y: int) -> Strip:
        """Return one row of the digits."""
        style = self.rich_style
        width, height = self.size
        scale = self._scale(self.text)
        row = y - (height - rows(scale)) // 2
        if not scale or not 0 <= row < rows(scale):
            # Too small for any drawing: plain digits are better than none.
            plain = self.text if not scale and y == height // 2 else ""
            return Strip([Segment(plain.center(width), style)], width)
        line = (" " * scale).join(drawn(sign, scale)[row] for sign in self.text)
        return Strip([Segment(line.center(width), style)], width)

    def _scale(self, text: str) -> int:
        return scale_for(text, self.size.width, self.size.height, halves=self._halves)

    def _place(self, number: int, scale: int) -> Region:
        left = (self.size.width - columns(self.text, scale)) // 2
        start = columns(self.text[:number], scale) + (scale if number else 0)
        top = (self.size.height - rows(scale)) // 2
        # One column more on each side: centring may round either way.
        width = len(GLYPHS[self.text[number]][0]) * scale
        return Region(left + start - 1, top, width + 2, rows(scale))


def _differing(before: str, after: str) -> set[str]:
    return {sign for old, new in zip(before, after, strict=True) if old != new for sign in (old, new)}
