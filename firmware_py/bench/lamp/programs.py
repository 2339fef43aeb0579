"""Base and burns that once made a good print, kept with the negative and found again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import msgspec

from firmware_py.craft.lamp import time_at_distance_s
from firmware_py.craft.paper import time_on_other_paper_s
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_rows import PrintRow

Burns = tuple[tuple[float, str], ...]


@dataclass(frozen=True, slots=True)
class Program:
    """``base_s`` [s of full light] and burns [stops] of a negative, on a paper and at a distance [mm]."""

    negative: str
    run_id: str | None
    paper: str
    paper_speed: float | None
    distance_mm: float | None
    base_s: float
    burns: Burns
    kept_utc: str


class Programs:
    """The newest program of each negative, by the run of its plate, otherwise by its name."""

    def __init__(self) -> None:
        self._by_run: dict[str, Program] = {}
        self._by_name: dict[str, Program] = {}

    def learn(self, rows: Iterable[PrintRow]) -> None:
        """Take in the programs that the book holds, newest first."""
        for program in reversed([p for row in rows if (p := program_of_row(row)) is not None]):
            self.remember(program)

    def remember(self, program: Program) -> None:
        """Take in a program that was kept just now."""
        if program.run_id is not None:
            self._by_run[program.run_id] = program
        self._by_name[_plain(program.negative)] = program

    def find(self, negative: str, run_id: str | None) -> Program | None:
        """Return the program kept with a negative, if there is one."""
        by_run = self._by_run.get(run_id) if run_id is not None else None
        return by_run or self._by_name.get(_plain(negative))


def program_of_row(row: PrintRow) -> Program | None:
    """Return the program in a row of the book."""
    if row.program_base_s is None:
        return None
    burns = msgspec.json.decode(row.program_burns or "[]", type=Burns)
    return Program(
        negative=row.negative,
        run_id=row.run_id,
        paper=row.paper,
        paper_speed=row.paper_speed,
        distance_mm=row.distance_mm,
        base_s=row.program_base_s,
        burns=burns,
        kept_utc=row.opened_utc,
    )


def program_of_record(record: PrintRecord) -> Program | None:
    """Return the program that a print has kept."""
    kept = record.program
    if kept is None:
        return None
    return Program(
        negative=record.opened.negative,
        run_id=record.opened.run_id,
        paper=record.paper,
        paper_speed=record.paper_speed,
        distance_mm=record.distance_mm,
        base_s=kept.base_s,
        burns=kept.burns,
        kept_utc=record.utc,
    )


def base_now_s(program: Program, record: PrintRecord) -> float:
    """Return the program's base [s] on the paper and at the distance of a print, as far as both are known."""
    base_s = program.base_s
    if program.distance_mm is not None and record.distance_mm is not None:
        base_s = time_at_distance_s(base_s, program.distance_mm, record.distance_mm)
    if program.paper_speed is not None and record.paper_speed is not None:
        base_s = time_on_other_paper_s(base_s, program.paper_speed, record.paper_speed)
    return base_s


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())
