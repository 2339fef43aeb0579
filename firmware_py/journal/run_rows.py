"""One row for each run, as lists and searches want it: made from the fold, never from anything else."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from itertools import islice
from typing import NamedTuple

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.run import Entry, RunWentOn, TemperatureRead
from firmware_py.facts.events.verdict import PlateJudged
from firmware_py.journal.outcome import outcome
from firmware_py.journal.places import place_of
from firmware_py.journal.run_record import RunRecord


class RunRow(NamedTuple):
    """A run at its last telling event, which has the number ``number``.

    The row is not written anew for every reading of a thermometer: ``elapsed_s`` and the like of a run
    that is not ended are those at its last step, mark or note. ``marks`` and ``notes`` are counts,
    ``about`` is what was known of it from its opening on, as JSON (`facts.about_run`);
    ``judged`` counts the plates judged; ``density``, ``contrast`` and ``fog`` are of the first one.
    """

    run_id: str
    number: int
    plate: str
    routine: str
    tray: str
    rehearsal: bool
    opened_utc: str
    state: str
    ended: str | None
    elapsed_s: float | None
    equivalent_s: float | None
    target_s: float | None
    reference_degC: float | None
    rate_per_K: float | None
    bath_min_degC: float | None
    bath_mean_degC: float | None
    bath_max_degC: float | None
    marks: int
    notes: int
    doubt_s: float
    box: str
    developer: str
    density: str | None
    contrast: str | None
    fog: str | None
    judged: int
    about: str


COLUMNS = ", ".join(RunRow._fields)
_PUT = (
    f"INSERT OR REPLACE INTO run (place, {COLUMNS}) "  # noqa: S608 - constants
    f"VALUES ({', '.join('?' * (len(RunRow._fields) + 1))})"
)
_PUT_WORDS = "INSERT OR REPLACE INTO run_words (rowid, plate, routine, words) VALUES (?, ?, ?, ?)"


def is_telling(entry: Entry) -> bool:
    """Return whether an entry changes a run's row; a mere reading or sign of life does not."""
    return not isinstance(entry.event, TemperatureRead | RunWentOn)


def row_of_run(record: RunRecord) -> RunRow:
    """Return the row of a run as it stands."""
    came = outcome(record)
    bath, first = came.bath_degC, record.verdicts.get(record.plate)
    return RunRow(
        run_id=came.run_id,
        number=record.number,
        plate=came.plate,
        routine=came.routine,
        tray=came.tray,
        rehearsal=came.rehearsal,
        opened_utc=came.opened_utc,
        state=came.state,
        ended=came.ended,
        elapsed_s=came.elapsed_s,
        equivalent_s=came.equivalent_s,
        target_s=came.target_s,
        reference_degC=came.reference_degC,
        rate_per_K=came.rate_per_K,
        bath_min_degC=bath.min if bath else None,
        bath_mean_degC=bath.mean if bath else None,
        bath_max_degC=bath.max if bath else None,
        marks=len(came.marks),
        notes=len(came.notes),
        doubt_s=came.doubt_s,
        box=came.box,
        developer=came.developer,
        density=first.density if first else None,
        contrast=first.contrast if first else None,
        fog=first.fog if first else None,
        judged=len(came.verdicts),
        about=msgspec.json.encode(record.about).decode(),
    )


def words_of_run(record: RunRecord) -> str:
    """Return the words of a run that a search looks through, besides plate and routine."""
    baths = [step.bath for step in record.routine.steps if step.development is not None]
    named = [named.bath for named in record.baths.values()]
    kind = [record.plate_kind.size, record.plate_kind.emulsion] if record.plate_kind else []
    marks = [mark.what for mark in record.marks]
    judged = [words_of_verdict(verdict) for verdict in record.verdicts.values()]
    words = [
        record.opened.tray,
        record.routine.title,
        *record.plates[1:],
        record.named.box,
        *kind,
        record.opened_utc[:10],
    ]
    return "\n".join(filter(None, [*words, *baths, *named, *marks, *record.notes, *judged]))


def words_of_verdict(verdict: PlateJudged) -> str:
    """Return the words of a verdict that a search looks through."""
    fog = [] if verdict.fog == "none" else [f"fog {verdict.fog}"]
    said = [f"density {verdict.density}", f"contrast {verdict.contrast}", *fog, *verdict.faults]
    return "\n".join([*said, verdict.remark])


def put(connection: sqlite3.Connection, row: RunRow, words: str) -> None:
    """Write a run's row and its words in place of those there were."""
    place = place_of(connection, "run", row.run_id)
    connection.execute(_PUT, (place, *row))
    connection.execute(_PUT_WORDS, (place, row.plate, row.routine, words))


def replayed(entries: Sequence[Entry]) -> tuple[RunRow, str]:
    """Return the row and the words that a run's entries amount to; raise `Refused` where they can not be."""
    if not entries:
        raise Refused("a run without entries")
    last = max((n for n, entry in enumerate(entries) if is_telling(entry)), default=0)
    rest = iter(entries)
    record = RunRecord.replay(islice(rest, last + 1))
    row, words = row_of_run(record), words_of_run(record)
    for entry in rest:
        record.apply(entry)
    return row, words
