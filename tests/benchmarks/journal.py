"""How the journal behaves under kills, and how its times grow with the book.

``python -m tests.benchmarks.journal [--kills 200] [--runs 1000 100000] [--folder DIR] [--flips]``
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Callable, Iterator
from functools import partial
from itertools import islice
from pathlib import Path
from time import perf_counter

from firmware_py.facts.events.run import Entry, NoteWritten, TemperatureRead
from firmware_py.journal.box_advice import advice_of_box
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.run_list import newest_runs, open_runs, runs_before, runs_found, runs_with_words
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.benchmarks.measuring import Spread
from tests.journal.damage import event_cells, flipped
from tests.journal.kills import kill_many
from tests.journal.making import entry, run_entries, subject
from tests.journal.making_verdicts import judged_run_entries

SUBJECTS = ("Breakwater", "Net lofts", "Slipway", "Church door", "Herring boats", "Lamp room", "Dunes")
RUNS_A_TRANSACTION = 200
Deed = Callable[[], object]


def generated(runs: int) -> Iterator[list[Entry]]:
    """Yield invented runs of about twenty events; one in a hundred has a rare word in a note.

    One in ten is judged; there are twelve judged plates to a box.
    """
    for n in range(1, runs + 1):
        if n % 10 == 0:
            yield judged_run_entries(subject(n), box=f"box {n // 120}", readings=8 + n % 3)
            continue
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


def timed(deed: Deed, times: int) -> list[float]:
    """Return how long ``deed`` took each time [ms]."""
    lasted = []
    for _ in range(times):
        begun = perf_counter()
        deed()
        lasted.append((perf_counter() - begun) * 1e3)
    return lasted


def with_reader(path: Path, deed: Callable[[JournalReader], object]) -> Deed:
    """Return ``deed`` on a file opened for it alone, as a command does."""

    def alone() -> None:
        with JournalReader.open(path) as reader:
            deed(reader)

    return alone


def readings(path: Path, runs: int) -> dict[str, Deed]:
    """Return what a person waits for when reading, each from opening the file to the result."""
    middle = subject(runs // 2)
    return {
        "list, first page": with_reader(path, lambda r: newest_runs(r.connection)),
        "list, page in the middle": with_reader(path, lambda r: runs_before(r.connection, middle)),
        "search, a rare word": with_reader(path, lambda r: runs_with_words(r.connection, "frilling")),
        "search, a common word": with_reader(path, lambda r: runs_with_words(r.connection, "slipway")),
        "search, a letter": with_reader(path, lambda r: runs_found(r.connection, "s")),
        "search, a date": with_reader(path, lambda r: runs_found(r.connection, "2026-03-14")),
        "search, box and verdict": with_reader(path, lambda r: runs_found(r.connection, "box 3 hard")),
        "search, its next page": with_reader(
            path, lambda r: runs_found(r.connection, "slipway", after=middle)
        ),
        "advice for a box": with_reader(path, lambda r: advice_of_box(r.connection, "box 3")),
        "open a run": with_reader(path, lambda r: RunRecord.replay(r.read(middle))),
        "find the open runs": with_reader(path, lambda r: open_runs(r.connection)),
    }


class Appending:
    """A journal open to be written, with one open run among all the others."""

    def __init__(self, path: Path) -> None:
        self.journal = Journal.open(path)
        self.of = subject(999_999_999)
        opening = run_entries(self.of, readings=0, ended=False)
        self.journal.append(opening[self.journal.last_number(self.of) :])
        self.number = self.journal.last_number(self.of)
        self.boot_s = self.journal.read(self.of)[-1].boot_s

    def deeds(self) -> dict[str, Deed]:
        """Return the two kinds of append: one that leaves the run's row as it is, and one that does not."""
        reading = TemperatureRead(bath_degC=19.9, tolerance_K=0.5, source="probe")
        return {
            "append a reading": lambda: self.append(reading),
            "append a note": lambda: self.append(NoteWritten(text="a remark")),
        }

    def append(self, event: TemperatureRead | NoteWritten) -> None:
        """Commit one event."""
        self.number += 1
        self.journal.append([entry(self.of, self.number, event, self.boot_s)])


def compare(sizes: list[int], folder: Path) -> None:
    """Measure journals of each size in turn, so that a busy machine is as busy for each; print ratios."""
    paths = [folder / f"{runs}.db" for runs in sizes]
    for runs, path in zip(sizes, paths, strict=True):
        if not path.exists():
            filled(path, runs)
    heading("median ms (p99)", sizes)
    report([readings(path, runs) for runs, path in zip(sizes, paths, strict=True)], 10)
    report([{"open for writing, close": partial(open_and_close, path)} for path in paths], 5)
    writers = [Appending(path) for path in paths]
    report([writer.deeds() for writer in writers], 60)
    for writer in writers:
        writer.journal.close()
    report([{"verify": partial(whole, path)} for path in paths], 1, rounds=1)


def open_and_close(path: Path) -> None:
    """Open a journal as the controller does, and close it."""
    Journal.open(path).close()


def whole(path: Path) -> None:
    """Verify a journal that has no faults."""
    assert verify(path).faults == []


def heading(words: str, sizes: list[int]) -> None:
    """Print the head of the table."""
    print(f"{words:26}" + "".join(f"{runs:>20}" for runs in sizes) + "   ratio")


def report(deeds: list[dict[str, Deed]], times: int, rounds: int = 5) -> None:
    """Time each deed on each journal, in turn, and print a line for it."""
    for what in deeds[0]:
        lasted: list[list[float]] = [[] for _ in deeds]
        for _ in range(rounds):
            for found, deed in zip(lasted, deeds, strict=True):
                found.extend(timed(deed[what], times))
        spreads = [Spread.of(found) for found in lasted]
        cells = [f"{spread.median:.2f} ({spread.p99:.2f})" for spread in spreads]
        ratio = spreads[-1].median / spreads[0].median
        print(f"{what:26}" + "".join(f"{cell:>20}" for cell in cells) + f"{ratio:8.2f}", flush=True)


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
    parser.add_argument("--folder", type=Path, help="keep the generated journals here")
    parser.add_argument("--flips", action="store_true")
    wanted = parser.parse_args()
    everything = not (wanted.kills or wanted.runs or wanted.flips)
    if wanted.kills or everything:
        with tempfile.TemporaryDirectory() as folder:
            print(kill_many(Path(folder) / "killed.db", wanted.kills or 200, seed=1))
    if wanted.runs or everything:
        with tempfile.TemporaryDirectory() as folder:
            compare(wanted.runs or [1_000, 100_000], wanted.folder or Path(folder))
    if wanted.flips:
        flip_every_bit()


if __name__ == "__main__":
    main()
