"""The page drawn by matplotlib: an SVG of one leaf, or a PDF of as many leaves as it needs."""

from __future__ import annotations

from functools import cache
from io import BytesIO

from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.lines import Line2D
from matplotlib.textpath import text_to_path

from firmware_py.report.sheets.layout import Leaf, leaves_of, long_leaf_of
from firmware_py.report.sheets.page import Page, Paper
from firmware_py.report.sheets.plot import MM_PER_INCH, draw_curve, fixed_settings
from firmware_py.report.sheets.strip import Item, Line, Picture, Rule

_MISSING = "□"
_PT_PER_MM = 72 / MM_PER_INCH
_CREATOR = "Embertray"


def svg_of(page: Page, paper: Paper) -> bytes:
    """Return the page as one SVG, longer than the paper where it must be; letters are drawn as outlines."""
    with fixed_settings("path"):
        figure = _figure(long_leaf_of(page, paper, width_mm))
        file = BytesIO()
        metadata = {"Date": None, "Creator": _CREATOR, "Title": _drawable(page.title, bold=False)}
        figure.savefig(file, format="svg", metadata=metadata)
    return file.getvalue()


def pdf_of(page: Page, paper: Paper) -> bytes:
    """Return the page as a PDF, with its type in it."""
    file = BytesIO()
    metadata = {"CreationDate": None, "ModDate": None, "Creator": _CREATOR, "Title": page.title}
    with fixed_settings("path"), PdfPages(file, metadata=metadata) as pages:
        for leaf in leaves_of(page, paper, width_mm):
            pages.savefig(_figure(leaf))
    return file.getvalue()


def _figure(leaf: Leaf) -> Figure:
    figure = Figure(figsize=(leaf.width_mm / MM_PER_INCH, leaf.height_mm / MM_PER_INCH), facecolor="white")
    for item in leaf.items:
        _draw(figure, leaf, item)
    return figure


def _draw(figure: Figure, leaf: Leaf, item: Item) -> None:
    wide, high = leaf.width_mm, leaf.height_mm
    match item:
        case Line():
            figure.text(
                item.x_mm / wide,
                1 - item.y_mm / high,
                _drawable(item.words, bold=item.bold),
                fontsize=item.size_pt,
                fontweight="bold" if item.bold else "normal",
                ha="right" if item.from_right else "left",
                va="baseline",
            )
        case Rule():
            across = [item.x_mm / wide, item.to_x_mm / wide]
            down = [1 - item.y_mm / high, 1 - item.to_y_mm / high]
            figure.add_artist(Line2D(across, down, color="black", linewidth=item.weight_pt))
        case Picture():
            bottom = 1 - (item.y_mm + item.height_mm) / high
            place = (item.x_mm / wide, bottom, item.width_mm / wide, item.height_mm / high)
            draw_curve(figure, item.curve, place)


@cache
def _type(*, bold: bool) -> FontProperties:
    return FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal")


@cache
def _signs(*, bold: bool) -> frozenset[int]:
    return frozenset(get_font(findfont(_type(bold=bold))).get_charmap())


def _drawable(words: str, *, bold: bool) -> str:
    """Return words with a box for each sign that the typeface lacks; the HTML page has them all."""
    signs = _signs(bold=bold)
    return "".join(sign if ord(sign) in signs else _MISSING for sign in words)


def width_mm(words: str, size_pt: float, bold: bool) -> float:
    """Return how wide [mm] words are drawn at a size [pt]."""
    if not words:
        return 0.0
    return _em_width(_drawable(words, bold=bold), bold=bold) * size_pt / _PT_PER_MM


@cache
def _em_width(words: str, *, bold: bool) -> float:
    properties = _type(bold=bold).copy()
    properties.set_size(100)
    return text_to_path.get_text_width_height_descent(words, properties, ismath=False)[0] / 100
