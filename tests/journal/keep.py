"""Write a journal of this version with every kind of event, to be kept and replayed for ever.

``python -m tests.journal.keep`` makes ``kept/journal-SCHEMA.db`` (``journal-SCHEMA-NAME.db`` with a NAME) and
beside it, as JSON, what its runs, prints and plates come to by the fold of the day. Do it for every new
schema and every new kind of event; a file once kept is never made anew: a program that can not replay it
has a fault.
"""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import msgspec

from firmware_py.craft.routine import Step
from firmware_py.facts.events import heat as he
from firmware_py.facts.events import run as ev
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.life_record import PlateRecord
from firmware_py.journal.migrations import SCHEMA
from firmware_py.journal.outcome import outcome
from firmware_py.journal.print_outcome import print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from tests.journal.making import ROUTINE, numbered, run_entries, subject
from tests.journal.making_baths import bath_entries, lit_run_entries, probe_entries
from tests.journal.making_plates import (
    box_entries,
    broken_entries,
    holder_entries,
    life_entries,
    mistaken_entries,
)
from tests.journal.making_prints import print_entries
from tests.journal.making_verdicts import DRY, judged_run_entries

KEPT = Path(__file__).parent / "kept"


def kept_entries() -> list[list[ev.Entry]]:
    """Return a session, runs of many kinds, a print, two baths, a probe, boxes, holders and plates."""
    return [
        session(),
        run_entries(subject(2)),
        resumed_run(),
        run_entries(subject(4), ended=False),
        two_plates(),
        print_entries(subject(6)),
        bath_entries(subject(7)),
        bath_entries(subject(8), discarded=False),
        probe_entries(subject(9)),
        lit_run_entries(subject(10)),
        box_entries(subject(11)),
        box_entries(subject(12), finished=True),
        holder_entries(subject(13)),
        holder_entries(subject(14), set_aside=True),
        life_entries(subject(15), box=subject(11), holder=subject(13)),
        broken_entries(subject(16), box=subject(11)),
        judged_run_entries(subject(21)),
        pulled_by_mistake(),
        corrected_run(),
        mistaken_entries(subject(24), box=subject(11), holder=subject(13)),
    ]


def session() -> list[ev.Entry]:
    """Return a session with everything that can happen to the bench itself."""
    happened: list[ev.AnyEvent] = [
        ev.BenchStarted(program="0.1.0", rehearsal=True),
        ev.RelaySwitched(relay="safelight", on=True, why="a person"),
        ev.ProbeFellSilent(probe="tray 1", why="no answer for 6 s"),
        ev.ProbeSpokeAgain(probe="tray 1", bath_degC=19.75),
        ev.ProbeSetAside(probe="tray 1"),
        ev.ProbeTakenBack(probe="tray 1"),
        he.HeatSet(set_degC=20.0, bath="Pyro of Saturday"),
        he.HeatEnded(why="a person asked"),
        he.HeatStopped(watcher="stale reading", why="its probe has said nothing for 5 s"),
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


def two_plates() -> list[ev.Entry]:
    """Return a run of two plates in the dark: by appearance, fixed for twice the clearing, in two waters."""
    developer, _, fixer = ROUTINE.steps
    assert developer.development is not None
    development = replace(
        developer.development,
        ends=("appearance", "inspection"),
        factor=5.0,
        ceiling_s=900.0,
        longest_s=1800.0,
    )
    routine = replace(
        ROUTINE,
        steps=(
            replace(developer, development=development, light="dark"),
            replace(fixer, clearing="twice", low_degC=15.0),
            Step("Wash", "wash", "water", time_s=60.0, changes=2, light="white"),
        ),
    )
    opened = ev.RunOpened(
        plate="half plate 8",
        others=("half plate 9",),
        box="spring 1",
        dark=True,
        tray="tray 2",
        routine=routine,
        rehearsal=True,
    )
    happened: list[tuple[float, ev.AnyEvent]] = [
        (0.0, opened),
        (5.0, ev.StepStarted(step=0, bath_degC=18.0, tolerance_K=0.5, source="probe")),
        (15.0, ev.MarkMade(what="image appears", bath_degC=18.0)),
        (16.0, ev.MarkTakenBack(what="image appears")),
        (45.0, ev.MarkMade(what="image appears", bath_degC=18.0)),
        (205.0, ev.StepFellDue(step=0, why="ceiling")),
        (210.0, ev.StepEnded(step=0, why="pulled", bath_degC=18.0)),
        (210.0, ev.StepStarted(step=1)),
        (220.0, ev.BathLeftWindow(step=1, bath_degC=14.0, low_degC=15.0, high_degC=None)),
        (400.0, ev.MarkMade(what="plate is clear")),
        (410.0, ev.RunWentOn()),
        (900.0, ev.StepFellDue(step=1, over_s=50.0)),
        (900.0, ev.StepEnded(step=1, why="moved on")),
        (900.0, ev.StepStarted(step=2)),
        (960.0, ev.WaterChanged(step=2)),
        (1020.0, ev.StepFellDue(step=2)),
        (1021.0, ev.StepEnded(step=2, why="moved on")),
        (1021.0, ev.RunEnded(ended="pulled")),
    ]
    return numbered(subject(5), happened)


def pulled_by_mistake() -> list[ev.Entry]:
    """Return a run whose plate was pulled, put back, and pulled for good."""
    begun = [(one.boot_s - 1000.0, one.event) for one in run_entries(subject(22), readings=5, ended=False)]
    at_s = begun[-1][0]
    mistaken: list[tuple[float, ev.AnyEvent]] = [
        (at_s + 20.0, ev.StepEnded(step=0, why="pulled", bath_degC=19.5)),
        (at_s + 20.0, ev.StepStarted(step=1)),
        (
            at_s + 27.0,
            ev.PullTakenBack(step=0, out_s=7.0, bath_degC=19.5, tolerance_K=0.5, source="probe"),
        ),
        (at_s + 60.0, ev.StepEnded(step=0, why="pulled", bath_degC=19.5)),
        (at_s + 60.0, ev.StepStarted(step=1)),
    ]
    return numbered(subject(22), begun + mistaken)


def corrected_run() -> list[ev.Entry]:
    """Return a run that was opened with the wrong plate, corrected once it was judged."""
    done = [(one.boot_s - 1000.0, one.event) for one in run_entries(subject(23))]
    after_s = done[-1][0] + 60.0
    later: list[tuple[float, ev.AnyEvent]] = [
        (after_s, DRY),
        (after_s + 60.0, ev.PlateCorrected(plate="spring/7", box="spring")),
    ]
    return numbered(subject(23), [*done, *later])


def runs_of(journal: Journal) -> Any:
    """Return what the runs of a journal come to, by the fold of the day."""
    ids = journal.subjects("RunOpened")
    return msgspec.to_builtins([outcome(RunRecord.replay(journal.read(run_id))) for run_id in ids])


def prints_of(journal: Journal) -> Any:
    """Return what the prints of a journal come to, by the fold of the day."""
    ids = journal.subjects("PrintOpened")
    return msgspec.to_builtins([print_outcome(PrintRecord.replay(journal.read(one))) for one in ids])


def plates_of(journal: Journal) -> Any:
    """Return what the boxes, holders and plates of a journal come to, by the folds of the day."""
    folds = (("BoxEntered", BoxRecord), ("HolderEntered", HolderRecord), ("PlateBoxed", PlateRecord))
    return {
        first: [msgspec.to_builtins(fold.replay(journal.read(one))) for one in journal.subjects(first)]
        for first, fold in folds
    }


def main() -> None:
    """Make the file of this schema, if it is not kept yet."""
    path = KEPT / "-".join([f"journal-{SCHEMA}", *sys.argv[1:]])
    path = path.with_name(path.name + ".db")
    KEPT.mkdir(exist_ok=True)
    if path.exists():
        raise SystemExit(f"{path} is kept already; name a new one after it by hand")
    with Journal.open(path, ballast_bytes=0) as journal:
        for entries in kept_entries():
            journal.append(entries)
        runs, prints, plates = runs_of(journal), prints_of(journal), plates_of(journal)
    path.with_name(path.name + ".lock").unlink()
    for suffix, came in ((".json", runs), (".prints.json", prints), (".plates.json", plates)):
        words = json.dumps(came, indent=1, ensure_ascii=False) + "\n"
        path.with_suffix(suffix).write_text(words, encoding="utf-8")


if __name__ == "__main__":
    main()
