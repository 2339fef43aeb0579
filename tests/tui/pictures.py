"""Draws the pictures of the manual from the real pages: ``python -m tests.tui.pictures [FOLDER]``."""

from __future__ import annotations

import asyncio
import sys
import tempfile
from collections.abc import Iterator
from html import escape
from itertools import groupby
from pathlib import Path

from rich.segment import Segment

from tests.tui.pages.stage import Stage, stage
from tests.tui.sample_baths import BATHS, STOPPED, with_baths
from tests.tui.sample_bench import bench, by_eye, due, lane, six_lanes
from tests.tui.sample_book import sample_book
from tests.tui.sample_devices import SILENT, wired_bench
from tests.tui.sample_plates import with_plates
from tests.tui.sample_print import LAMP_SCENES
from tui.light import remember
from tui.outing_words import OutingWords, remember_outing
from tui.theme import BRIGHTNESSES
from tui.words.pages import PAGE_NAMES, PageName

FOLDER = Path(__file__).parents[2] / "docs" / "pictures"
CELL = (9, 18)
# Drawn as areas, as fonts leave hairlines between blocks: top and height in shares of a cell.
BLOCKS = {"█": (0.0, 1.0), "▀": (0.0, 0.5), "▄": (0.5, 0.5)}
SIZES = ((80, 24), (120, 36))
OUTING = OutingWords(place="56.05N 2.72W", index="3", sky="hazy", magnification="1/8")
# The page that is turned to is the first part of the name, but for Help, which lies over any.
PAGES = {
    "trays": (bench(lane(1)), ""),
    "trays-by-eye": (bench(by_eye(3)), ""),
    "trays-due": (bench(due(1), most_urgent=1), ""),
    "trays-six": (six_lanes(), ""),
    "baths": (with_baths(*BATHS, heater=STOPPED), ""),
    "plates": (with_plates(), ""),
    **{name: (LAMP_SCENES[name], "") for name in ("lamp-lit", "lamp-strip", "lamp-refused")},
    "logbook": (bench(lane(1)), ""),
    "logbook-run": (bench(lane(1)), "enter"),
    "daylight": (bench(lane(1)), ""),
    "daylight-day": (bench(lane(1)), "d"),
    "bench": (wired_bench(SILENT), ""),
    "help": (bench(lane(1)), "h"),
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


async def picture(name: str, size: tuple[int, int], state: Path) -> str:
    """Return the picture of a page, always of the same moment."""
    view, keys = PAGES[name]
    remember(BRIGHTNESSES, state)
    remember_outing(OUTING, state)
    async with stage(state, view, size=size, own_s=0.0) as on:
        on.link.book = sample_book(state).answer
        await on.turn_to(page_of(name))
        if page_of(name) == "daylight":
            # By UTC, whatever clock the machine is set to; then the reckoning on its thread.
            await on.press("3", *["backspace"] * 5, *"14:00Z", "enter")
            while "Reckoning" in on.text():
                await on.pilot.pause(0.01)
        await on.press(*keys.split())
        return await _at_rest(on)


async def _at_rest(on: Stage) -> str:
    """Return the picture once it stands still: a page may have asked the book."""
    before, drawn = "", svg(on.segments())
    while drawn != before:
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


def main(folder: Path) -> None:
    """Draw every page in every size."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in PAGES:
        for size in SIZES:
            with tempfile.TemporaryDirectory() as state:
                drawn = asyncio.run(picture(name, size, Path(state)))
            (folder / file_name(name, size)).write_text(drawn, encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER)
