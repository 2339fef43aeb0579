"""Books with one absurd value: no door takes what would spoil a view; what is there spoils no other.

``python -m tests.journal.absurd --imports 430 --seed 7`` puts an absurd value into one field of one event of
a good book, with a chain of hashes that is right, and imports it: either it is refused in one line, or every
view of the book still works. An exception that is no refusal is a failure.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import json
import sqlite3
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

from firmware_py.bench.show import show
from firmware_py.facts.events.run import Entry
from firmware_py.journal.lines import written
from firmware_py.journal.merge import import_lines
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.rows import START_OF_CHAIN, Row, link, row_of
from firmware_py.journal.store import Journal
from firmware_py.service.resuming import resume_bench
from tests.bench.bench_at_hand import BenchAtHand
from tests.journal.making import run_entries, subject
from tests.journal.making_baths import bath_entries, lit_run_entries, probe_entries
from tests.journal.making_plates import box_entries, holder_entries, life_entries
from tests.journal.making_prints import print_entries
from tests.journal.making_verdicts import judged_run_entries
from tui.cli import main

NUMBERS = (0, -1, 1e308, -1e308, 1e15, 5e-324, 10**30, -273.16)
TEXTS = ("", "soon", "9999-12-31T23:59:59+00:00", "0001-01-01T00:00:00+14:00", "2026-02-30", "1e308", "-5")
BATH = subject(1)

Entries = list[Entry]


def good_book() -> list[Entries]:
    """Return subjects of every kind, some of them still open."""
    box, holder = subject(5), subject(6)
    return [
        bath_entries(BATH, discarded=False),
        probe_entries(subject(2)),
        lit_run_entries(subject(3)),
        print_entries(subject(4)),
        box_entries(box),
        holder_entries(holder),
        life_entries(subject(7), box=box, holder=holder),
        run_entries(subject(8)),
        judged_run_entries(subject(9)),
    ]


def fields_of(body: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Yield every number and text in ``body`` with its place, the event's own name left out."""
    items = body.items() if isinstance(body, dict) else enumerate(body) if isinstance(body, list) else ()
    for key, value in items:
        if isinstance(value, dict | list):
            yield from fields_of(value, (*at, key))
        elif key != "event" and not isinstance(value, bool):
            yield (*at, key), value


def poisoned(entries: Entries, number: int, place: tuple[Any, ...], value: Any) -> list[Row]:
    """Return the rows of ``entries`` with ``value`` at ``place`` in event ``number``, well chained."""
    rows, previous = [], START_OF_CHAIN
    for entry in entries:
        row = row_of(entry, previous)
        if entry.number == number:
            body = json.loads(row.body)
            here = body
            for key in place[:-1]:
                here = here[key]
            here[place[-1]] = value
            row = row._replace(body=json.dumps(body, separators=(",", ":")))
            row = row._replace(hash=link(previous, row))
        rows.append(row)
        previous = row.hash
    return rows


def absurd_books() -> Iterator[tuple[str, list[Row], list[Entries]]]:
    """Yield every field of every kind of event with every absurd value: its name, its rows, the good rest."""
    book = good_book()
    seen: set[tuple[str, tuple[Any, ...]]] = set()
    for at, entries in enumerate(book):
        for entry in entries:
            kind = type(entry.event).__name__
            body = json.loads(row_of(entry, START_OF_CHAIN).body)
            for place, was in fields_of(body):
                if (kind, place) in seen:
                    continue
                seen.add((kind, place))
                for value in TEXTS if isinstance(was, str) else NUMBERS:
                    name = f"{kind}.{'.'.join(map(str, place))} = {value!r}"
                    yield name, poisoned(entries, entry.number, place, value), book[:at] + book[at + 1 :]


def imported(rows: list[Row], rest: list[Entries], folder: Path) -> bool:
    """Import rows into a book that has the rest; return whether it took them."""
    path = folder / "journal.db"
    (folder / "absurd.jsonl").write_bytes(b"".join(written(rows)))
    with Journal.open(path, ballast_bytes=0) as journal:
        for entries in rest:
            journal.append(entries)
        try:
            import_lines(journal, folder / "absurd.jsonl")
        except JournalRefused as refused:
            if "\n" in refused.line:
                raise AssertionError(f"not one line: {refused.line!r}") from refused
            return False
    return True


def force(path: Path, rows: list[Row]) -> None:
    """Put other bodies into events that are in the book, as a program without the check wrote them."""
    connection = sqlite3.connect(path)
    connection.execute("DROP TRIGGER event_is_never_changed")
    for row in rows:
        change = "UPDATE event SET body = ?, hash = ? WHERE subject = ? AND number = ?"
        connection.execute(change, (row.body, row.hash, row.subject, row.number))
    connection.commit()
    connection.close()


def look_at_everything(path: Path) -> dict[str, int]:
    """Start a bench on the book and ask for every list; return each command's exit."""
    with Journal.open(path, ballast_bytes=0) as journal:
        at_hand = BenchAtHand(probe=False)
        resume_bench(at_hand.bench, journal)
        at_hand.pass_s(2.0)
        show(at_hand.bench)
    sheet, label = str(path.with_name("sheet.svg")), str(path.with_name("label.svg"))
    asked = {
        "list": [],
        "show": ["last"],
        "prints": [],
        "boxes": [],
        "holders": [],
        "plates": [],
        "verify": [],
        "label": [BATH, "--force", "-o", label],
        "sheet": ["last", "--force", "-o", sheet],
        "advice": ["spring"],
        "rebuild": ["--leave-out"],
    }
    return {name: quietly("logbook", name, *words, "--journal", str(path)) for name, words in asked.items()}


def quietly(*words: str) -> int:
    """Run a command line; return its exit, and fail where it says more than one line of trouble."""
    said = io.StringIO()
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(said):
        code = main(words)
    if said.getvalue().count("\n") > 1:
        raise AssertionError(f"{words}: {said.getvalue()!r}")
    return code


def play(imports: int, seed: int) -> tuple[Counter[str], list[str]]:
    """Import so many absurd books; return how many were refused and taken, and what failed."""
    books = list(absurd_books())
    count, failed = Counter[str](), []
    for name, rows, rest in Random(seed).sample(books, k=min(imports, len(books))):
        with tempfile.TemporaryDirectory() as folder:
            try:
                taken = imported(rows, rest, Path(folder))
                count["taken" if taken else "refused"] += 1
                if taken:
                    look_at_everything(Path(folder) / "journal.db")
            except Exception as error:  # noqa: BLE001 - whatever is no refusal is what is looked for
                failed.append(f"{name}: {type(error).__name__}: {error}")
    return count, failed


def run(arguments: list[str] | None = None) -> int:
    """Play and tell."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--imports", type=int, default=430)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args(arguments)
    count, failed = play(args.imports, args.seed)
    print(f"{args.imports} imports, seed {args.seed}: {dict(count)}; {len(failed)} failed")
    print("\n".join(failed))
    return bool(failed)


if __name__ == "__main__":
    sys.exit(run())
