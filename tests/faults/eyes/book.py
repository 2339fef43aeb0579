"""The book, read from the file by plain SQLite and JSON: no code of the product's, and never the file itself.

The file and its log are copied first, so that to look changes nothing.
"""

from __future__ import annotations

import hashlib
import json
import math
import shutil
import sqlite3
import struct
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import Any

_EVENTS = (
    "SELECT seq, subject, number, boot_id, boot_s, utc, kind, schema, body, hash FROM event ORDER BY seq"
)
_TABLES = {"run": "run_id", "print": "print_id", "bath": "bath_id"}


@dataclass(frozen=True)
class Line:
    """One event as it lies in the file; ``body`` is its JSON."""

    seq: int
    subject: str
    number: int
    boot_id: str
    boot_s: float
    utc: str
    kind: str
    schema: int
    text: str
    hash: bytes

    @property
    def body(self) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(self.text)
        return found


@dataclass
class OwnBook:
    """Everything in the file: events in order, by subject, and the tables made from them."""

    lines: list[Line] = field(default_factory=list)
    subjects: dict[str, list[Line]] = field(default_factory=dict)
    rows: dict[str, dict[str, dict[str, Any]]] = field(default_factory=dict)
    pages: str = "ok"

    def of(self, *kinds: str) -> Iterator[Line]:
        return (line for line in self.lines if line.kind in kinds)

    def beginning_with(self, kind: str) -> list[list[Line]]:
        return [lines for lines in self.subjects.values() if lines[0].kind == kind]


def read_book(path: Path) -> OwnBook:
    """Read a copy of the journal at ``path``; an empty book where there is none."""
    book = OwnBook()
    if not path.exists() or path.stat().st_size == 0:
        return book
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy.db"
        for ending in ("", "-wal"):
            file = path.with_name(path.name + ending)
            if file.exists():
                shutil.copyfile(file, copy.with_name(copy.name + ending))
        connection = sqlite3.connect(copy)
        try:
            _read(connection, book)
        finally:
            connection.close()
    return book


def _read(connection: sqlite3.Connection, book: OwnBook) -> None:
    book.pages = str(connection.execute("PRAGMA integrity_check(1)").fetchone()[0])
    by_subject: dict[str, list[Line]] = defaultdict(list)
    for row in connection.execute(_EVENTS):
        line = Line(*row)
        book.lines.append(line)
        by_subject[line.subject].append(line)
    book.subjects = dict(by_subject)
    connection.row_factory = sqlite3.Row
    for table, key in _TABLES.items():
        rows = connection.execute(f"SELECT * FROM {table}").fetchall()
        book.rows[table] = {row[key]: dict(row) for row in rows}


def chain_faults(lines: list[Line]) -> Iterator[str]:
    """What is wrong with a subject's numbers and hashes, reckoned anew.

    The chain as `firmware_py.journal.rows.link` describes it in words: SHA-256 over the previous hash, then
    each column as its type's letter, its length in four bytes, big end first, and its bytes.
    """
    previous = bytes(32)
    for number, line in enumerate(lines, start=1):
        if line.number != number:
            yield f"event {line.number} of {line.subject} stands where number {number} belongs"
        digest = hashlib.sha256(previous)
        for value in (line.subject, line.number, line.boot_id, line.boot_s, line.utc, line.kind):
            digest.update(_packed(value))
        digest.update(_packed(line.schema) + _packed(line.text))
        if digest.digest() != line.hash:
            yield f"event {line.number} of {line.subject} has a hash that does not follow"
        previous = line.hash


def _packed(value: str | float) -> bytes:
    if isinstance(value, str):
        letter, raw = b"t", value.encode()
    elif isinstance(value, int):
        letter, raw = b"i", str(value).encode()
    else:
        letter, raw = b"f", struct.pack(">d", value)
    return letter + len(raw).to_bytes(4, "big") + raw


@dataclass(frozen=True)
class Developed:
    """A development as the book's readings tell it: its equivalent time [s] and how it ended, if it has.

    ``back_at_s`` [equivalent s] is how far it was when its plate last went back into it, after a pull that
    was a mistake; 0 where that never was.
    """

    run_id: str
    target_s: float
    equivalent_s: float
    ended: str | None
    back_at_s: float = 0.0


def moments(lines: list[Line]) -> Iterator[tuple[Line, float]]:
    """Give each event of a run with its time in the run [s]: by the boot clock, across starts as resumed."""
    run_s, boot_id, boot_s = 0.0, lines[0].boot_id, lines[0].boot_s
    for line in lines:
        resumed = line.body if line.kind == "RunResumed" else None
        if resumed is not None and (resumed["how"] != "boot clock" or line.boot_id != boot_id):
            run_s += resumed["away_s"]
            boot_id, boot_s = line.boot_id, line.boot_s
        elif line.boot_id == boot_id:
            run_s += line.boot_s - boot_s
            boot_s = line.boot_s
        yield line, run_s


def developed(lines: list[Line]) -> list[Developed]:
    """Integrate every development of a run from its readings alone: the trapezoid of exp(k (T - T0)).

    Source: Ferguson & Howard 1905, for the exponential law; only coefficients, no tables. The law
    goes on outside the tested range, unless the plan is one from before, which held the rate of the edge.
    After a pull taken back the same development goes on, from its last reading, as if it had never ended.
    """
    steps = lines[0].body["routine"]["steps"]
    found: list[_Going] = []
    here: _Going | None = None
    for line, run_s in moments(lines):
        body = line.body
        if line.kind == "StepStarted":
            says = steps[body["step"]].get("development")
            here = _Going(body["step"], says) if says else None
            found += [here] if here is not None else []
        if line.kind == "PullTakenBack":
            here = next(going for going in reversed(found) if going.step == body["step"])
            del found[found.index(here) + 1 :]
            here.go_back(run_s, body.get("bath_degC"))
        if here is None:
            continue
        if line.kind in {"StepStarted", "TemperatureRead", "StepEnded"} and body.get("bath_degC") is not None:
            here.read(run_s, body["bath_degC"])
        if line.kind == "StepEnded":
            here.ended = body["why"]
            here = None
    return [going.over(lines[0].subject) for going in found]


class _Going:
    """A development that goes on: its readings so far."""

    def __init__(self, step: int, development: dict[str, Any]) -> None:
        self.step = step
        self.ended: str | None = None
        self._says = development
        self._readings: list[tuple[float, float]] = []
        self._back_at_s = 0.0

    def read(self, run_s: float, bath_degC: float) -> None:
        self._readings.append((run_s, bath_degC))

    def go_back(self, run_s: float, bath_degC: float | None) -> None:
        """Go on, the time out counted like the rest: at the bath told of, else at the one last read."""
        self.ended = None
        if self._readings:
            self.read(run_s, self._readings[-1][1] if bath_degC is None else bath_degC)
        self._back_at_s = self._equivalent_s()

    def over(self, run_id: str) -> Developed:
        return Developed(run_id, self._says["target_s"], self._equivalent_s(), self.ended, self._back_at_s)

    def _equivalent_s(self) -> float:
        parts = [
            (to_s - from_s) * (self._rate(before) + self._rate(after)) / 2
            for (from_s, before), (to_s, after) in pairwise(self._readings)
        ]
        return math.fsum(parts)

    def _rate(self, bath_degC: float) -> float:
        says = self._says
        counted_degC = bath_degC
        if says.get("beyond", "held") == "held":
            counted_degC = min(max(bath_degC, says["low_degC"]), says["high_degC"])
        return math.exp(says["ln_per_K"] * (counted_degC - says["reference_degC"]))
