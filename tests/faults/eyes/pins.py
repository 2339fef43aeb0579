"""The pins' own record, read without the product's code."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

from tests.faults.evidence import Span

_TAIL_BYTES = 4096


def is_lit(record: Path, pin: int) -> bool:
    """Whether the line is driven high now, by the last entry about it."""
    with record.open("rb") as file:
        size = file.seek(0, 2)
        file.seek(max(0, size - _TAIL_BYTES))
        lines = file.read().split(b"\n")[:-1]
    for line in reversed(lines):
        words = line.split()
        if len(words) == 4 and int(words[1]) == pin:
            return words[2:] == [b"out", b"1"]
    return False


def spans(records: Sequence[tuple[Path, float]], pin: int, ends_s: Sequence[float]) -> list[Span]:
    """When the line was driven high, over several machine starts; an end of power ends every span.

    Each record has the offset [s] of the clock it was written by; ``ends_s`` [boot s] is when each start of
    the machine ended.
    """
    found: list[Span] = []
    for machine, ((path, offset_s), end_s) in enumerate(zip(records, ends_s, strict=True), start=1):
        on_s: float | None = None
        for stamped_s, high in _levels(path, pin):
            at_s = stamped_s - offset_s
            if high and on_s is None:
                on_s = at_s
            elif not high and on_s is not None:
                found.append(Span(on_s, at_s, machine))
                on_s = None
        if on_s is not None:
            found.append(Span(on_s, end_s, machine))
    return found


def _levels(path: Path, pin: int) -> list[tuple[float, bool]]:
    if not path.exists():
        return []
    rows = [line.split() for line in path.read_text(encoding="ascii").splitlines()]
    return [(float(row[0]), row[2:] == ["out", "1"]) for row in rows if int(row[1]) == pin]


def ends_of_machines(cuts_s: Sequence[float]) -> list[float]:
    """When each start of the machine ended [boot s], for ``spans``; the last goes on."""
    return [*cuts_s, math.inf]
