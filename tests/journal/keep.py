"""Write a journal of this version with every kind of event, to be kept and replayed for ever.

``python -m tests.journal.keep`` makes ``kept/journal-SCHEMA.db`` and beside it, as JSON, what its runs come
to by the fold of the day. Do it for every new schema and every new kind of event; a file once kept is never
made anew: a program that can not replay it has a fault.
"""

from __future__ import annotations

import json
from pathlib import Path

import msgspec

from firmware_py.journal import events as ev
from firmware_py.journal.migrations import SCHEMA
from firmware_py.journal.outcome import outcome
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from tests.journal.making import numbered, run_entries, subject

KEPT = Path(__file__).parent / "kept"


def kept_entries() -> list[list[ev.Entry]]:
    """Return a session, a finished run, an abandoned one that was resumed, and an open one."""
    return [session(), run_entries(subject(2)), resumed_run(), run_entries(subject(4), ended=False)]


def session() -> list[ev.Entry]:
    """Return a session with everything that can happen to the bench itself."""
    happened: list[ev.AnyEvent] = [
        ev.BenchStarted(program="0.1.0", rehearsal=True),
        ev.RelaySwitched(relay="safelight", on=True, why="a person"),
        ev.ProbeFellSilent(probe="tray 1", why="no answer for 6 s"),
        ev.ProbeSpokeAgain(probe="tray 1", bath_degC=19.75),
        ev.FaultSeen(fault="slow disk", detail="a commit took 2.1 s"),
        ev.BenchStopped(why="a person"),
    ]
    return numbered(subject(1), list(enumerate(happened)))


def resumed_run() -> list[ev.Entry]:
    """Return a run that a restart of the controller cut in two, given up in the rinse."""
    begun = [(one.boot_s - 1000.0, one.event) for one in run_entries(subject(3), readings=5, ended=False)]
    away: list[tuple[float, ev.AnyEvent]] = [
        (200.0, ev.RunResumed(away_s=45.0, doubt_s=0.0, how="boot clock")),
        (201.0, ev.NoteWritten(text="the screen came back by itself; „Wolken“ hold")),
        (210.0, ev.TemperatureRead(bath_degC=19.5, tolerance_K=1.0, source="hand")),
        (240.0, ev.StepFellDue(step=0)),
        (245.0, ev.StepEnded(step=0, why="time", bath_degC=19.5)),
        (247.0, ev.StepStarted(step=1)),
        (250.0, ev.StepEnded(step=1, why="abandoned")),
        (250.0, ev.RunEnded(ended="abandoned")),
    ]
    return numbered(subject(3), begun + away)


def main() -> None:
    """Make the file of this schema, if it is not kept yet."""
    path = KEPT / f"journal-{SCHEMA}.db"
    KEPT.mkdir(exist_ok=True)
    if path.exists():
        raise SystemExit(f"{path} is kept already; name a new one after it by hand")
    with Journal.open(path, ballast_bytes=0) as journal:
        for entries in kept_entries():
            journal.append(entries)
        runs = journal.subjects("RunOpened")
        came = [msgspec.to_builtins(outcome(RunRecord.replay(journal.read(run_id)))) for run_id in runs]
    path.with_name(path.name + ".lock").unlink()
    words = json.dumps(came, indent=1, ensure_ascii=False) + "\n"
    path.with_suffix(".json").write_text(words, encoding="utf-8")


if __name__ == "__main__":
    main()
