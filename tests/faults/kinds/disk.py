"""The disk: full, full at the start, slow, locked by another program, read-only; a page damaged."""

from __future__ import annotations

import os
import signal
import sqlite3
from contextlib import suppress
from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault, Needs
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage
from tests.faults.stage.users import give_to_bench_user

JOURNAL_SAYS = r"(?i)journal takes nothing"
COMMIT_S = 0.2
PAGE = 4096


def _kill(stage: Stage) -> None:
    if stage.controller is not None:
        stage.controller.signal(signal.SIGKILL)
        stage.controller.wait(5.0)


# --- full ---


def _fill(stage: Stage, *_: object) -> None:
    """Take every free byte of the small disk, also what a ballast file has given up meanwhile."""
    with (stage.folder.state / "filler").open("ab", buffering=0) as file, suppress(OSError):
        while True:
            file.write(bytes(PAGE))
    give_to_bench_user(stage.folder.state / "filler")


def _filled(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    _fill(stage)


def _filled_at_start(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    _kill(stage)
    _fill(stage)


def _empty(stage: Stage, _struck: Struck) -> None:
    (stage.folder.state / "filler").unlink(missing_ok=True)


# --- slow ---


def _slow(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    stage.folder.bent.bend(commit_s=COMMIT_S)


def _quick(stage: Stage, _struck: Struck) -> None:
    stage.folder.bent.bend(commit_s=0.0)


# --- held ---


def _held(how: str) -> object:
    def strike(stage: Stage, _dice: Random, struck: Struck) -> None:
        struck.at_s = now_s()
        other = sqlite3.connect(stage.folder.journal, isolation_level=None, timeout=0.2)
        struck.notes["held by"] = other
        with suppress(sqlite3.Error):
            other.execute(how)
            other.execute("SELECT count(*) FROM event").fetchone()

    return strike


def _let_go(_stage: Stage, struck: Struck) -> None:
    struck.notes.pop("held by").close()


# --- read-only, damaged ---


def _read_only(stage: Stage, dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    stage.folder.state.chmod(0o500)
    if dice.random() < 0.5:
        _kill(stage)


def _writable(stage: Stage, _struck: Struck) -> None:
    stage.folder.state.chmod(0o700)


def _damage(stage: Stage, dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    _kill(stage)
    with stage.folder.journal.open("r+b") as file:
        size = file.seek(0, os.SEEK_END)
        if size <= PAGE:
            return
        at = dice.randrange(PAGE, size)  # the first page names the file as a journal: that is another fault
        file.seek(at)
        byte = file.read(1)[0]
        file.seek(at)
        file.write(bytes([byte ^ 1 << dice.randrange(8)]))
    struck.notes["damaged"] = at


# --- the book's files: deleted in use, the log damaged ---


def _delete(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    for ending in ("", "-wal", "-shm"):
        stage.folder.journal.with_name(stage.folder.journal.name + ending).unlink(missing_ok=True)


def _start_anew(stage: Stage, struck: Struck) -> None:
    struck.notes["healed at s"] = now_s()
    if stage.controller is not None:
        stage.controller.signal(signal.SIGTERM)
        stage.controller.wait(5.0)
        stage.step()  # its end is noted, so that the next one is waited for


def _damage_log(stage: Stage, dice: Random, struck: Struck) -> None:
    stage.play(1.0)  # so that what was acknowledged is witnessed: a moment later than it is written
    struck.at_s = now_s()
    _kill(stage)
    log = stage.folder.journal.with_name(stage.folder.journal.name + "-wal")
    raw = bytearray(log.read_bytes() if log.exists() else b"")
    if raw:
        raw[dice.randrange(len(raw))] ^= 1 << dice.randrange(8)
        with log.open("r+b") as file:
            file.write(raw)


FAULTS = (
    Fault(
        "journal deleted",
        "nothing more is acknowledged, it is said, and the next start goes on with all of it",
        _delete,
        _start_anew,
        lasts_s=(1.5, 3.5),
        judged_after_s=3.1,
        needs=Needs.PLATE,
        says=JOURNAL_SAYS,
        known_after_s=1.0,
    ),
    Fault(
        "damaged log",
        "if newest events are lost by it, the start says how many, and keeps the files as they were",
        _damage_log,
    ),
    Fault(
        "disk full",
        "the ballast gives way; then what happens is kept waiting, no exposure begins, timers go on",
        _filled,
        _empty,
        _fill,
        lasts_s=(0.8, 2.5),
        needs=Needs.SMALL_DISK,
    ),
    Fault(
        "disk full at start",
        "it starts on the room that the ballast gives up, or refuses in one line until there is room",
        _filled_at_start,
        _empty,
        lasts_s=(0.8, 2.0),
        needs=Needs.SMALL_DISK,
    ),
    Fault("slow disk", "no timer and no exposure is any longer for it", _slow, _quick, lasts_s=(0.5, 2.0)),
    Fault(
        "book held by a reader",
        "nothing is noticed",
        _held("BEGIN"),  # type: ignore[arg-type]
        _let_go,
        lasts_s=(0.5, 3.0),
    ),
    Fault(
        "book locked by a writer",
        "what happens is kept waiting, no exposure begins, timers go on",
        _held("BEGIN IMMEDIATE"),  # type: ignore[arg-type]
        _let_go,
        lasts_s=(1.0, 5.0),
        judged_after_s=3.1,
        needs=Needs.PLATE,
        says=JOURNAL_SAYS,
        known_after_s=1.0,  # the next thing that is written: a reading, each second
    ),
    Fault(
        "folder read-only",
        "it goes on, or refuses to start in one line until it may write",
        _read_only,
        _writable,
        lasts_s=(0.5, 1.5),
    ),
    Fault(
        "damaged page",
        "found at the start; the damaged file is kept, what is whole goes on, and it is said",
        _damage,
    ),
)
