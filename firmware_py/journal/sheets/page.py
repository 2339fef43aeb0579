"""What a sheet holds, before it is known how it is printed: blocks of facts, tables, words and curves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal

Paper = Literal["A4", "Letter", "label"]
# Sizes by ISO 216 and ANSI/ASME Y14.1; the label is an A6, round a brown bottle of a litre.
PAPERS_MM: dict[Paper, tuple[float, float]] = {
    "A4": (210.0, 297.0),
    "Letter": (215.9, 279.4),
    "label": (105.0, 148.0),
}
TICK = "☐"
_WIDE = 23


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact: what it is called and what it is, a long one on a line of its own; "" is room to write it."""

    name: str
    value: str

    @property
    def is_wide(self) -> bool:
        """Get whether it wants a line of its own."""
        return len(self.value) > _WIDE


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


def plain(text: str) -> str:
    """Return ``text`` with a question mark for whatever is not a printable sign."""
    return "".join(sign if sign.isprintable() else "?" for sign in text)


def facts_of(pairs: Sequence[tuple[str, str | None]]) -> tuple[Fact, ...]:
    """Return the facts that are known: those with any words."""
    return tuple(Fact(name, value) for name, value in pairs if value)


def clock(time_s: float) -> str:
    """Return a time [s] as minutes and seconds."""
    whole = round(time_s)
    return f"{whole // 60}:{whole % 60:02d}"


def lines_of(text: str) -> tuple[str, ...]:
    """Return what a person wrote line by line, none of them empty."""
    return tuple(line for line in text.splitlines() if line.strip())


def moment(utc: str) -> str:
    """Return a moment of the wall clock (ISO 8601) to the second, as it is written on a sheet."""
    return f"{utc[:19].replace('T', ' ')} UTC"
