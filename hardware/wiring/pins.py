"""The pin table, read from `pins.toml`."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

TABLE = Path(__file__).with_name("pins.toml")

# The 40-pin header, place 1 to 40: the BCM number of a line, or what supply is there. Source: the boards'
# published pinout (Raspberry Pi documentation, "GPIO and the 40-pin header"), from memory.
HEADER: tuple[int | str, ...] = (
    *("3.3 V", "5 V", 2, "5 V", 3, "ground", 4, 14, "ground", 15),
    *(17, 18, 27, "ground", 22, 23, "3.3 V", 24, 10, "ground"),
    *(9, 25, 11, 8, "ground", 7, 0, 1, 5, "ground"),
    *(6, 12, 13, "ground", 19, 16, 26, 20, "ground", 21),
)


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the board and what hangs on it; ``key`` is its table in bench.toml, if it has one."""

    name: str
    key: str
    bcm: int
    header: int
    way: str
    at_reset: str
    at_rest: str
    what: str
    colour: str


@dataclass(frozen=True, slots=True)
class Supply:
    """A place of the header that gives power or ground."""

    name: str
    header: int
    what: str
    colour: str


def read_lines() -> dict[str, Line]:
    """Return the lines by name."""
    return {row["name"]: Line(**row) for row in _table()["line"]}


def read_supplies() -> tuple[Supply, ...]:
    """Return the supplies that are used."""
    return tuple(Supply(**row) for row in _table()["supply"])


def _table() -> dict[str, list[dict[str, object]]]:
    return tomllib.loads(TABLE.read_text(encoding="utf-8"))
