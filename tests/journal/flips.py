"""Single bits flipped in a journal and its log, files cut off: each is harmless to every event, or noticed.

``python -m tests.journal.flips --flips 400 --seed 7``: half in the main file, half in the log that a killed
controller left. ``--cuts N`` cuts the main file off at so many places. Every command must end with one line
at most, also on the damaged file; a traceback is a failure, and so is an event that is lost silently.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import tempfile
from collections import Counter
from pathlib import Path
from random import Random

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.run import Entry
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.recover import open_or_recover
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.journal.absurd import good_book, quietly
from tests.journal.damage import flipped
from tests.journal.making import run_entries, subject

Book = dict[str, list[Entry]]
NEWEST = subject(20)
COMMANDS = ("list", "prints", "boxes", "holders", "plates", "verify")


def killed_book(folder: Path) -> Path:
    """Make a book as a killed controller leaves it: the older half in the file, the newer in the log."""
    making, left = folder / "making", folder / "left"
    making.mkdir()
    with Journal.open(making / "journal.db", ballast_bytes=0) as journal:
        for entries in good_book():
            journal.append(entries)
    with Journal.open(making / "journal.db", ballast_bytes=0) as journal:
        for entry in run_entries(NEWEST, readings=40, ended=False):
            journal.append([entry])
        journal.look_after()
        left.mkdir()
        for file in making.iterdir():
            if not file.name.endswith("-shm"):
                shutil.copyfile(file, left / file.name)
    return left / "journal.db"


def events_of(path: Path) -> Book | None:
    """Return every event as a reader gets it; None where the file refuses."""
    try:
        with JournalReader.open(path) as reader:
            return {subject: reader.read(subject) for subject in reader.subjects()}
    except Refused:
        return None


def _verify_notices(path: Path) -> bool:
    try:
        return bool(verify(path).faults)
    except Refused:
        return True


def harm(path: Path, good: Book) -> str:
    """Return what became of the book: harmless, noticed, or what must not be.  Raises what is no refusal."""
    harmed = events_of(path) != good
    notices = _verify_notices(path)
    for command in COMMANDS:
        quietly("logbook", command, "--journal", str(path))
    quietly("logbook", "verify", "--save", str(path.with_name("saved.db")), "--journal", str(path))
    if harmed and not notices:
        return "NOT NOTICED by verify"
    journal, words = open_or_recover(path)
    with journal:
        kept = {subject: _read(journal, subject) for subject in good}
    if any(kept.get(subject) != entries for subject, entries in good.items()) and not (words or notices):
        return "LOST at the start without a word"
    if len(kept[NEWEST]) < len(good[NEWEST]) and not words:
        return "newest events LOST at the start without a word"
    return "noticed" if harmed else "harmless"


def _read(journal: Journal, subject: str) -> list[Entry]:
    try:
        return journal.read(subject)
    except Refused:  # that is a word too
        return []


def play(flips: int, cuts: int, seed: int) -> tuple[Counter[str], list[str]]:
    """Flip and cut; return how many came out how, and what must not be."""
    dice, count, failed = Random(seed), Counter[str](), []
    with tempfile.TemporaryDirectory() as name:
        killed = killed_book(Path(name))
        good = events_of(killed)
        if good is None or sum(map(len, good.values())) < 80:
            raise AssertionError("the book to be damaged is not whole")
        half = flips // 2
        places = [("main", "")] * half + [("log", "-wal")] * (flips - half) + [("cut", "")] * cuts
        for at, (where, ending) in enumerate(places):
            folder = Path(name) / f"flip-{at}"
            shutil.copytree(killed.parent, folder)
            path = folder / "journal.db"
            file = path.with_name(path.name + ending)
            raw = file.read_bytes()
            place, bit = dice.randrange(len(raw)), dice.randrange(8)
            file.write_bytes(raw[:place] if where == "cut" else flipped(raw, place, bit))
            try:
                came = harm(path, good)
            except Exception as error:  # noqa: BLE001 - whatever is no refusal is what is looked for
                came = f"{type(error).__name__}: {error}"
            count[f"{where}: {came if came in {'harmless', 'noticed'} else 'FAILED'}"] += 1
            if came not in {"harmless", "noticed"}:
                failed.append(f"{where}, byte {place}, bit {bit}: {came}")
            shutil.rmtree(folder)
    return count, failed


def run(arguments: list[str] | None = None) -> int:
    """Play and tell."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--flips", type=int, default=400)
    parser.add_argument("--cuts", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args(arguments)
    count, failed = play(args.flips, args.cuts, args.seed)
    print(f"{args.flips} flips, {args.cuts} cuts, seed {args.seed}: {dict(sorted(count.items()))}")
    print("\n".join(failed))
    return bool(failed)


if __name__ == "__main__":
    sys.exit(run())
