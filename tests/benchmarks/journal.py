"""How the journal behaves under kills, and how its times grow with the book.

``python -m tests.benchmarks.journal [--kills 200] [--runs 1000 100000] [--flips]``
"""

from __future__ import annotations

import argparse
import statistics
import tempfile
from collections.abc import Callable, Iterator
from itertools import islice
from pathlib import Path
from time import perf_counter

from firmware_py.journal.events import Entry, NoteWritten, TemperatureRead
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.run_list import newest_runs, open_runs, runs_before, runs_with_words
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.journal.damage import event_cells, flipped
from tests.journal.kills import kill_many
from tests.journal.making import entry, run_entries, subject

SUBJECTS = ("Breakwater", "Net lofts", "Slipway", "Church door", "Herring boats", "Lamp room", "Dunes")
RUNS_A_TRANSACTION = 200


def generated(runs: int) -> Iterator[list[Entry]]:
    """Yield invented runs of about twenty events; one in a hundred has a rare word in a note."""
    for n in range(1, runs + 1):
        entries = run_entries(subject(n), plate=f"{SUBJECTS[n % 7]}, plate {n}", readings=8 + n % 3)
        if n % 100 == 50:
            last = entries[-1]
            entries.append(
                entry(last.subject, last.number + 1, NoteWritten(text=f"frilling, corner {n}"), last.boot_s)
            )
        yield entries


def filled(path: Path, runs: int) -> None:
    """Fill a new journal with ``runs`` runs."""
    begun = perf_counter()
    source, events = generated(runs), 0
    with Journal.open(path) as journal:
        while batch := [one for run in islice(source, RUNS_A_TRANSACTION) for one in run]:
            journal.append(batch)
            events += len(batch)
    lasted, size = perf_counter() - begun, path.stat().st_size
    each = f"{size / 1e6:.0f} MB, {size / events:.0f} bytes an event"
    print(f"{runs} runs, {events} events: {each}, made in {lasted:.0f} s")


def timed(deed: Callable[[], object], times: int = 30) -> list[float]:
    """Return how long ``deed`` took each time [ms]."""
    lasted = []
    for _ in range(times):
        begun = perf_counter()
        deed()
        lasted.append((perf_counter() - begun) * 1e3)
    return sorted(lasted)


def with_reader(path: Path, deed: Callable[[JournalReader], object]) -> Callable[[], object]:
    """Return ``deed`` on a file opened for it alone, as a command does."""

    def alone() -> object:
        with JournalReader.open(path) as reader:
            return deed(reader)

    return alone


def appends(path: Path) -> dict[str, list[float]]:
    """Return the times of single appends to a run that is open among all the others."""
    of = subject(999_999_999)
    with Journal.open(path) as journal:
        entries = run_entries(of, readings=0, ended=False)
        done = journal.last_number(of)
        journal.append(entries[done:])
        number, boot_s = journal.last_number(of), journal.read(of)[-1].boot_s

        def append(event: TemperatureRead | NoteWritten) -> None:
            nonlocal number
            number += 1
            journal.append([entry(of, number, event, boot_s)])

        reading = TemperatureRead(bath_degC=19.9, tolerance_K=0.5, source="probe")
        return {
            "append a reading": timed(lambda: append(reading), 300),
            "append a note": timed(lambda: append(NoteWritten(text="a remark")), 100),
        }


def measured(path: Path, runs: int) -> dict[str, list[float]]:
    """Return the times [ms] of what a person waits for."""
    middle = subject(runs // 2)
    found = {
        "list, first page": timed(with_reader(path, lambda r: newest_runs(r.connection))),
        "list, page in the middle": timed(with_reader(path, lambda r: runs_before(r.connection, middle))),
        "search, a rare word": timed(with_reader(path, lambda r: runs_with_words(r.connection, "frilling"))),
        "search, a common word": timed(with_reader(path, lambda r: runs_with_words(r.connection, "slipway"))),
        "open a run": timed(with_reader(path, lambda r: RunRecord.replay(r.read(middle)))),
        "find the open runs": timed(with_reader(path, lambda r: open_runs(r.connection))),
        "open for writing, close": timed(lambda: Journal.open(path).close(), 10),
        **appends(path),
    }
    begun = perf_counter()
    faults = verify(path).faults
    found["verify"] = [(perf_counter() - begun) * 1e3]
    assert faults == [], faults[:3]
    return found


def compare(sizes: list[int]) -> None:
    """Measure journals of each size and print each time with its ratio to the first."""
    results = []
    with tempfile.TemporaryDirectory() as folder:
        for runs in sizes:
            path = Path(folder) / f"{runs}.db"
            filled(path, runs)
            results.append(measured(path, runs))
    print(f"{'median ms (p99)':26}" + "".join(f"{runs:>20}" for runs in sizes) + "   ratio")
    for what in results[0]:
        times = [result[what] for result in results]
        medians = [statistics.median(lasted) for lasted in times]
        cells = [
            f"{statistics.median(lasted):.2f} ({lasted[int(len(lasted) * 0.99)]:.2f})" for lasted in times
        ]
        print(f"{what:26}" + "".join(f"{cell:>20}" for cell in cells) + f"{medians[-1] / medians[0]:8.2f}")


def flip_every_bit() -> None:
    """Flip each bit of each event of a small journal and count what `verify` did not find."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.db"
        with Journal.open(path) as journal:
            journal.append(run_entries(subject(1), readings=4, ended=False))
        raw = path.read_bytes()
        cells = event_cells(path)
        missed: dict[int, list[int]] = {}
        flips = 0
        for cell in cells:
            for place in range(cell.start, cell.end):
                for bit in range(8):
                    flips += 1
                    path.write_bytes(flipped(raw, place, bit))
                    if not found_out(path):
                        missed.setdefault(place - cell.header, []).append(bit)
    print(f"{flips} flipped bits in {len(cells)} events; not found, by byte of the header: {missed}")


def found_out(path: Path) -> bool:
    """Return whether anything is found wrong."""
    try:
        return bool(verify(path).faults)
    except JournalRefused:
        return True


def main() -> None:
    """Run what was asked for, or all but the flips."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int)
    parser.add_argument("--runs", type=int, nargs="+")
    parser.add_argument("--flips", action="store_true")
    wanted = parser.parse_args()
    everything = not (wanted.kills or wanted.runs or wanted.flips)
    if wanted.kills or everything:
        with tempfile.TemporaryDirectory() as folder:
            print(kill_many(Path(folder) / "killed.db", wanted.kills or 200, seed=1))
    if wanted.runs or everything:
        compare(wanted.runs or [1_000, 100_000])
    if wanted.flips:
        flip_every_bit()


if __name__ == "__main__":
    main()
