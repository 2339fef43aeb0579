"""Where an event lies in the bytes of a journal file, so that a bit of it can be flipped.

Page and cell layout: "Database File Format", sqlite.org/fileformat2.html, sections 1.6 and 2.1 (from memory).
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Cell:
    """The bytes of one event: its two sizes, its header of column types, its values."""

    start: int
    header: int
    values: int
    end: int


def event_cells(path: Path) -> list[Cell]:
    """Return where the events of a small, closed journal lie; they must fit in one page."""
    connection = sqlite3.connect(path)
    (page,) = connection.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'event'").fetchone()
    (size,) = connection.execute("PRAGMA page_size").fetchone()
    connection.close()
    raw = path.read_bytes()
    base = (page - 1) * size
    assert raw[base] == 0x0D, "the events do not fit in one leaf page"
    count = int.from_bytes(raw[base + 3 : base + 5], "big")
    pointers = [int.from_bytes(raw[base + 8 + 2 * n : base + 10 + 2 * n], "big") for n in range(count)]
    return [_cell(raw, base + pointer) for pointer in pointers]


def flipped(raw: bytes, place: int, bit: int) -> bytes:
    """Return the file with one bit flipped."""
    changed = bytearray(raw)
    changed[place] ^= 1 << bit
    return bytes(changed)


def _cell(raw: bytes, start: int) -> Cell:
    payload, at = _varint(raw, start)
    _, header = _varint(raw, at)
    header_size, _ = _varint(raw, header)
    return Cell(start, header, header + header_size, header + payload)


def _varint(raw: bytes, at: int) -> tuple[int, int]:
    value = 0
    while True:
        value = value << 7 | raw[at] & 0x7F
        at += 1
        if raw[at - 1] < 0x80:
            return value, at
