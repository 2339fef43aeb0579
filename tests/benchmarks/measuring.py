"""What every benchmark needs: spreads of errors, loads to measure under, and what it was measured on."""

from __future__ import annotations

import gc
import json
import math
import os
import platform
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path

# Ends by itself when the benchmark dies, so that a killed one leaves no core spinning.
SPIN = "import os\nparent = os.getppid()\nwhile os.getppid() == parent:\n    pass"


@dataclass(frozen=True, slots=True)
class Spread:
    """How measured values lie: each a value that was really measured (nearest rank), none made up between."""

    count: int
    median: float
    p99: float
    p99_9: float
    worst: float

    @classmethod
    def of(cls, values: Sequence[float]) -> Spread:
        """Take the spread of at least one value."""
        ranked = sorted(values)
        return cls(
            len(ranked), _ranked(ranked, 0.5), _ranked(ranked, 0.99), _ranked(ranked, 0.999), ranked[-1]
        )

    def cells(self, unit: float = 1.0) -> tuple[str, ...]:
        """Return count, median, p99, p99.9 and worst in ``unit`` as text, for `table`."""
        figures = (self.median, self.p99, self.p99_9, self.worst)
        return (f"{self.count}", *(f"{figure / unit:,.1f}" for figure in figures))


def _ranked(ranked: Sequence[float], share: float) -> float:
    # The hair taken off keeps 0.999 x 1000, which floats put just above 999, at rank 999.
    return ranked[max(1, math.ceil(share * len(ranked) - 1e-9)) - 1]


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Lay out rows under their head, first column to the left, figures to the right."""
    widths = [max(len(line[n]) for line in (head, *rows)) for n in range(len(head))]
    lines = []
    for line in (head, *rows):
        figures = (cell.rjust(width) for cell, width in zip(line[1:], widths[1:], strict=True))
        lines.append("  ".join((line[0].ljust(widths[0]), *figures)).rstrip())
    return "\n".join(lines)


def machine() -> str:
    """Say in one line what was measured on: figures mean little without it."""
    load = ", ".join(f"{average:.1f}" for average in os.getloadavg())
    return (
        f"Python {platform.python_version()}, {platform.system()} {platform.release()}, "
        f"{platform.machine()}, {os.cpu_count()} cores, load {load}"
    )


def cpu_s(pid: int) -> float:
    """Read the processor time [s] a process has used, in and out of the kernel."""
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def resident_kB(pid: int) -> int:
    """Read the memory [kB] of a process that is in the machine's memory now."""
    for line in Path(f"/proc/{pid}/status").read_text(encoding="utf-8").splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1])
    raise RuntimeError(f"process {pid} has no memory of its own any more")


@contextmanager
def cores_busy(count: int) -> Iterator[None]:
    """Keep ``count`` other processes spinning meanwhile."""
    with ExitStack() as spinning:
        for _ in range(count):
            process = subprocess.Popen([sys.executable, "-c", SPIN])
            spinning.callback(process.wait)
            spinning.callback(process.kill)
        yield


@contextmanager
def thread_busy(work: Callable[[], object]) -> Iterator[None]:
    """Repeat ``work`` in a thread of this process meanwhile; an error in it fails the benchmark."""
    over, failed = threading.Event(), []

    def keep_on() -> None:
        try:
            while not over.is_set():
                work()
        except Exception as error:  # noqa: BLE001 - raised again below, in the benchmark's own thread
            failed.append(error)

    thread = threading.Thread(target=keep_on, daemon=True)
    thread.start()
    try:
        yield
    finally:
        over.set()
        thread.join()
    if failed:
        raise failed[0]


@contextmanager
def garbage_collected(objects: int = 400_000) -> Iterator[None]:
    """Force full garbage collections over a heap of ``objects`` small lists meanwhile."""
    heap = [[n] for n in range(objects)]
    with thread_busy(gc.collect):
        yield
    heap.clear()


@contextmanager
def json_and_sqlite(folder: Path, rows: int = 2000) -> Iterator[None]:
    """Write and read a big JSON text, and commit it to a database on disk, again and again meanwhile."""
    lines = [{"number": n, "bath_degC": 18.0 + n / 1000, "note": "as it was said"} for n in range(rows)]

    def work() -> None:
        text = json.dumps(lines)
        json.loads(text)
        with sqlite3.connect(folder / "load.db") as database:
            database.execute("create table if not exists load (text)")
            database.execute("insert into load values (?)", (text,))
            database.execute("delete from load")
        database.close()

    with thread_busy(work):
        yield
