"""Draws the pictures of the manual from the demo book: ``python -m tests.tui.pictures [FOLDER]``.

The real pages show what the simulated bench said on the evening of `demo_evening`, at its moments.
"""

from __future__ import annotations

import asyncio
import os
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from html import escape
from itertools import groupby
from pathlib import Path

from rich.segment import Segment

from tests.tui.demo_evening import Evening, play_evening
from tests.tui.pages.stage import Stage, stage
from tui.light import remember
from tui.pages.daylight.outing_words import OutingWords, remember_outing
from tui.pages.shared.page_names import PAGE_NAMES, PageName
from tui.theme import BRIGHTNESSES

FOLDER = Path(__file__).parents[2] / "docs" / "pictures"
CELL = (9, 18)
# Drawn as areas, as fonts leave hairlines between blocks: top and height in shares of a cell.
BLOCKS = {"█": (0.0, 1.0), "▀": (0.0, 0.5), "▄": (0.5, 0.5)}
SIZES = ((80, 24), (120, 36))
OUTING = OutingWords(place="62.5N 17.5E", index="4", sky="hazy", box="Skarnholm blue 8")
# The story's own dial, whatever the machine's is; `season.DIAL` as POSIX writes it.
ZONE = "<+02>-2"
# Each picture's moment of the evening, and the keys pressed then, in this order on one screen. The page that
# is turned to is the first part of the name, but for Help, which lies over any.
PICTURES = {
    "daylight": ("noon", ""),
    "daylight-day": ("noon", "d"),
    "plates": ("plates", ""),
    "baths": ("baths", ""),
    "lamp-strip": ("lamp-strip", ""),
    "lamp-lit": ("lamp-lit", ""),
    "trays": ("trays", ""),
    "trays-by-eye": ("trays-by-eye", ""),
    "trays-due": ("trays-due", ""),
    "trays-six": ("trays-six", ""),
    "lamp-refused": ("lamp-refused", ""),
    "bench": ("bench", ""),
    "logbook": ("bench", ""),
    "logbook-run": ("bench", "down down down down down down down enter"),
    "help": ("trays", "h"),
}


def svg(rows: list[list[Segment]]) -> str:
    """Return the picture of a screen."""
    width = sum(segment.cell_length for segment in rows[0]) * CELL[0]
    drawn = "\n".join(piece for y, row in enumerate(rows) for piece in _row(row, y * CELL[1]))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {len(rows) * CELL[1]}" '
        f'font-family="monospace" font-size="15" xml:space="preserve">\n'
        f'<rect width="100%" height="100%" fill="#000000"/>\n{drawn}\n</svg>\n'
    )


def _row(row: list[Segment], y: int) -> Iterator[str]:
    x = 0
    # How a row is cut into segments tells how it was drawn, not how it looks.
    for segment in Segment.simplify(row):
        wide = segment.cell_length * CELL[0]
        fg, bg = _colours(segment)
        if bg != "#000000":
            yield _area(x, y, wide, CELL[1], bg)
        yield from _blocks(segment.text, x, y, fg)
        plain = "".join(" " if sign in BLOCKS else sign for sign in segment.text)
        if plain.strip():
            yield (
                f'<text x="{x}" y="{y + 14}" textLength="{wide}" lengthAdjust="spacingAndGlyphs" '
                f'fill="{fg}" xml:space="preserve">{escape(plain)}</text>'
            )
        x += wide


def _blocks(text: str, x: int, y: int, colour: str) -> Iterator[str]:
    for sign, run in groupby(enumerate(text), key=lambda numbered: numbered[1]):
        places = [place for place, _ in run]
        if sign in BLOCKS:
            top, high = (share * CELL[1] for share in BLOCKS[sign])
            yield _area(x + places[0] * CELL[0], y + top, len(places) * CELL[0], high, colour)


def _area(x: float, y: float, width: float, height: float, colour: str) -> str:
    return f'<rect x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" fill="{colour}"/>'


def _colours(segment: Segment) -> tuple[str, str]:
    style = segment.style
    assert style is not None
    assert style.color is not None
    assert style.bgcolor is not None
    fg, bg = style.color.get_truecolor().hex, style.bgcolor.get_truecolor().hex
    return (bg, fg) if style.reverse else (fg, bg)


async def pictures(
    evening: Evening, size: tuple[int, int], names: Iterable[str], state: Path
) -> dict[str, str]:
    """Return pictures of a size by the names of their files, always of the same moments."""
    remember(BRIGHTNESSES, state)
    remember_outing(OUTING, state)
    drawn = {}
    with _by_the_dial_of_the_story():
        async with stage(state, evening.views["noon"], size=size, own_s=0.0) as on:
            on.link.book = evening.shelf.answer
            for name in names:
                moment, keys = PICTURES[name]
                await on.show(evening.views[moment])
                while on.screen.view is not evening.views[moment]:
                    await on.settle()
                await on.turn_to(page_of(name))
                await _at_rest(on)
                await on.press(*keys.split())
                drawn[file_name(name, size)] = await _at_rest(on)
    return drawn


@contextmanager
def _by_the_dial_of_the_story() -> Iterator[None]:
    before = os.environ.get("TZ")
    os.environ["TZ"] = ZONE
    time.tzset()
    try:
        yield
    finally:
        os.environ.pop("TZ")
        if before is not None:
            os.environ["TZ"] = before
        time.tzset()


async def _at_rest(on: Stage) -> str:
    """Return the picture once another tick changes nothing: the page has room, book and reckoning by then."""
    before, drawn = "", svg(on.segments())
    while drawn != before or "Reckoning" in on.text():
        on.screen.draw()
        for _ in range(3):
            await on.settle()
        before, drawn = drawn, svg(on.segments())
    return drawn


def page_of(name: str) -> PageName:
    """Return the page that a picture shows, or lies over."""
    return next((page for page in PAGE_NAMES if page == name.split("-", maxsplit=1)[0]), "trays")


def file_name(name: str, size: tuple[int, int]) -> str:
    """Return what the file with a picture is called."""
    return f"{name}-{size[0]}x{size[1]}.svg"


async def drawn_pictures(wanted: Mapping[tuple[int, int], Iterable[str]], state: Path) -> dict[str, str]:
    """Return the pictures wanted of each size by the names of their files, all of one evening."""
    evening = await play_evening(state)
    drawn: dict[str, str] = {}
    for size, names in wanted.items():
        drawn |= await pictures(evening, size, names, state)
    return drawn


def main(folder: Path) -> None:
    """Draw every page in every size."""
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as state:
        for name, drawn in asyncio.run(drawn_pictures(dict.fromkeys(SIZES, PICTURES), Path(state))).items():
            (folder / name).write_text(drawn, encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER)
