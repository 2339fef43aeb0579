"""What a sheet holds, before it is known how it is printed: blocks of facts, tables, words and curves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from firmware_py.report.told import Fact

Paper = Literal["A4", "Letter", "label"]
# Sizes by ISO 216 and ANSI/ASME Y14.1; the label is an A6, round a brown bottle of a litre.
PAPERS_MM: dict[Paper, tuple[float, float]] = {
    "A4": (210.0, 297.0),
    "Letter": (215.9, 279.4),
    "label": (105.0, 148.0),
}
TICK = "☐"


@dataclass(frozen=True, slots=True)
class Facts:
    """Facts under a heading; an empty heading prints none."""

    kind: ClassVar[str] = "facts"
    title: str
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column by its heading, its share of the width, and the side its cells stand at."""

    heading: str
    share: float = 1.0
    is_figure: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells; with ``row_mm`` [mm] the rows are that high and ruled, to be written in by hand."""

    kind: ClassVar[str] = "table"
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    row_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Words:
    """Lines of text under a heading, in a frame where they must not be missed."""

    kind: ClassVar[str] = "words"
    title: str
    lines: tuple[str, ...]
    framed: bool = False


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """The bath [degC] ± tolerance [K] and the equivalent time [s], ``elapsed_s`` [s] into the developer."""

    elapsed_s: float
    bath_degC: float
    tolerance_K: float
    equivalent_s: float
    source: str


@dataclass(frozen=True, slots=True)
class CurveMark:
    """A mark by its number in the table of marks, and when it was made [s into the developer]."""

    number: int
    elapsed_s: float


@dataclass(frozen=True, slots=True)
class Curve:
    """A development in a picture: its points and marks, and what was wanted of it."""

    kind: ClassVar[str] = "curve"
    title: str
    caption: str
    points: tuple[CurvePoint, ...]
    marks: tuple[CurveMark, ...]
    reference_degC: float
    target_s: float


Block = Facts | Table | Words | Curve


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet: its heading, a large ``banner`` where there is one, its blocks and the line at its foot."""

    title: str
    under: str
    blocks: tuple[Block, ...]
    foot: str
    banner: str = ""
    banner_words: str = ""
