"""How rows are placed and compared: places go by the time in the id, so that they sort."""

from __future__ import annotations

import math
import sqlite3
from collections.abc import Sequence
from typing import Literal

Table = Literal["run", "print", "bath", "box", "holder", "plate"]


def place_of(connection: sqlite3.Connection, table: Table, row_id: str) -> int:
    """Return the place that a row has in its table, or a free one by the time in its id.

    The 48 bits of milliseconds of a UUIDv7 and 15 of its random bits.
    """
    by_id = f"SELECT place FROM {table} WHERE {table}_id = ?"  # noqa: S608 - constants
    found = connection.execute(by_id, (row_id,)).fetchone()
    if found:
        return int(found[0])
    bits = int(row_id.replace("-", ""), 16)
    place = (bits >> 80) << 15 & 0x7FFF_FFFF_FFFF_8000 | (bits >> 61) & 0x7FFF
    taken = f"SELECT 1 FROM {table} WHERE place = ?"  # noqa: S608 - constants
    while connection.execute(taken, (place,)).fetchone():
        place += 1
    return place


def differences(names: Sequence[str], kept: Sequence[object], replay: Sequence[object]) -> list[str]:
    """Return what differs, column by column; floats may differ by a billionth, as machines do."""
    pairs = zip(names, kept, replay, strict=True)
    return [f"{name} is {was!r}, replayed {now!r}" for name, was, now in pairs if not _same(was, now)]


def _same(was: object, now: object) -> bool:
    if isinstance(was, float) and isinstance(now, float):
        return math.isclose(was, now, rel_tol=1e-9, abs_tol=1e-9)
    return was == now
