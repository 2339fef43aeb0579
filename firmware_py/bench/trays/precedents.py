"""Where earlier plates were pulled: what the book knows of the same box in the same developer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Protocol

from firmware_py.journal.run_record import RunRecord


class Precedents(Protocol):
    """Whatever remembers earlier runs; it may take its time, so that nobody waits for it."""

    def run(self, run_id: str) -> RunRecord:
        """Return a run as the book has it. Raises Refused where it has none such."""
        ...

    def pulled_at_s(self, box: str, developer: str, *, rehearsal: bool) -> Sequence[float]:
        """Return the equivalent times [s] at which plates of that box were pulled from that developer."""
        ...


@dataclass(frozen=True, slots=True)
class Precedent:
    """How many earlier plates were pulled, and at what equivalent time [s]: least, middle, most."""

    plates: int
    low_s: float
    median_s: float
    high_s: float


def precedent(pulled_at_s: Sequence[float]) -> Precedent | None:
    """Return what earlier pulls come to, None where there were none."""
    if not pulled_at_s:
        return None
    return Precedent(len(pulled_at_s), min(pulled_at_s), median(pulled_at_s), max(pulled_at_s))
