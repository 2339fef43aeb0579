"""Kill a writer at random moments, many times, and count what was acknowledged and is not there.

Run as ``python -m tests.journal.kills --kills 40 FOLDER``; one process forks the writers, so that a trial
costs milliseconds and not a start of Python.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import select
import signal
from dataclasses import asdict, dataclass
from pathlib import Path

from firmware_py.journal.reading import rows_of
from firmware_py.journal.rows import START_OF_CHAIN, link
from firmware_py.journal.store import Journal
from tests.journal.making import notes, subject

SUBJECTS_A_TRIAL = 3
LONGEST_S = 0.06
LONGEST_START_S = 20.0


@dataclass
class Tally:
    """What the trials found."""

    kills: int = 0
    acknowledged: int = 0
    stored: int = 0
    lost: int = 0
    twice: int = 0
    torn: int = 0
    broken_links: int = 0
    bad_files: int = 0
    false_alarms: int = 0


def write_until_killed(path: Path, trial: int, acknowledge: int) -> None:
    """Append batches without an end; tell ``acknowledge`` of each after its commit."""
    dice = random.Random(trial)
    subjects = [subject(trial * SUBJECTS_A_TRIAL + n) for n in range(SUBJECTS_A_TRIAL)]
    reached = dict.fromkeys(subjects, 0)
    with Journal.open(path) as journal:
        while True:
            of, size = dice.choice(subjects), dice.randint(1, 5)
            journal.append(notes(of, reached[of] + 1, reached[of] + size))
            reached[of] += size
            os.write(acknowledge, f"{of} {reached[of]} {size}\n".encode())
            if (
                dice.random() < 0.5
            ):  # the witness of the newest event is written after it, and may be killed too
                journal.look_after()


def kill_one(path: Path, trial: int, delay_s: float) -> list[tuple[str, int, int]]:
    """Let a writer run for ``delay_s`` [s], kill it, and return what it had acknowledged."""
    hear, tell = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(hear)
        try:
            write_until_killed(path, trial, tell)
        finally:
            os._exit(1)
    os.close(tell)
    said = b""
    # Every other one in the midst of its work, however busy the machine; the rest at any moment.
    if trial % 2:
        select.select([hear], [], [], LONGEST_START_S)
    select.select([], [], [], delay_s)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), f"the writer of trial {trial} ended by itself"
    while more := os.read(hear, 65536):
        said += more
    os.close(hear)
    whole = said[: said.rfind(b"\n") + 1].decode()
    return [(of, int(last), int(size)) for of, last, size in map(str.split, whole.splitlines())]


def count(path: Path, trial: int, said: list[tuple[str, int, int]], tally: Tally) -> None:
    """Open the journal as the next start of the controller would, and hold it against what was said."""
    ends: dict[str, set[int]] = {}
    for of, last, _ in said:
        ends.setdefault(of, set()).add(last)
    tally.kills += 1
    tally.acknowledged += sum(size for _, _, size in said)
    with Journal.open(path) as journal:
        tally.false_alarms += bool(journal.missing)
        tally.bad_files += journal._connection.execute("PRAGMA quick_check").fetchall() != [("ok",)]
        for n in range(SUBJECTS_A_TRIAL):
            of = subject(trial * SUBJECTS_A_TRIAL + n)
            entries = journal.read(of)
            numbers = [entry.number for entry in entries]
            tally.stored += len(numbers)
            tally.lost += max(0, max(ends.get(of, {0})) - len(numbers))
            tally.twice += len(numbers) - len(set(numbers))
            tally.torn += entries != notes(of, 1, len(numbers))
            tally.broken_links += broken_links(journal, of)


def broken_links(journal: Journal, of: str) -> int:
    """Return how many events of ``of`` do not follow from the one before."""
    previous, broken = START_OF_CHAIN, 0
    for row in rows_of(journal._connection, of):
        broken += row.hash != link(previous, row)
        previous = row.hash
    return broken


def kill_many(path: Path, kills: int, seed: int) -> Tally:
    """Kill ``kills`` writers of one journal, one after the other, at moments drawn from ``seed``."""
    tally, dice = Tally(), random.Random(seed)
    for trial in range(kills):
        said = kill_one(path, trial, dice.uniform(0.0, LONGEST_S))
        count(path, trial, said, tally)
    return tally


def main() -> None:
    """Run the trials and print the tally as JSON."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("folder", type=Path)
    wanted = parser.parse_args()
    print(json.dumps(asdict(kill_many(wanted.folder / "killed.db", wanted.kills, wanted.seed))))


if __name__ == "__main__":
    main()
