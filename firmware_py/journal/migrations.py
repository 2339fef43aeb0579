"""The steps that bring a journal file from each schema to the next, each in one transaction."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable
from pathlib import Path

from firmware_py.journal.refused import JournalRefused

APPLICATION_ID = 0x456D6272  # "Embr", in the header of every journal file

_EVENTS = """
CREATE TABLE event (
    seq     INTEGER PRIMARY KEY,
    subject TEXT    NOT NULL,
    number  INTEGER NOT NULL,
    boot_id TEXT    NOT NULL,
    boot_s  REAL    NOT NULL,
    utc     TEXT    NOT NULL,
    kind    TEXT    NOT NULL,
    schema  INTEGER NOT NULL,
    body    TEXT    NOT NULL,
    hash    BLOB    NOT NULL CHECK (length(hash) = 32),
    UNIQUE (subject, number)
) STRICT;
CREATE INDEX event_first ON event (kind, subject) WHERE number = 1;
CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON event
BEGIN SELECT RAISE(ABORT, 'an event is never changed'); END;
CREATE TRIGGER event_is_never_removed BEFORE DELETE ON event
BEGIN SELECT RAISE(ABORT, 'an event is never removed'); END;
CREATE TRIGGER event_follows BEFORE INSERT ON event
WHEN NEW.number <> 1 + coalesce((SELECT max(number) FROM event WHERE subject = NEW.subject), 0)
  OR NEW.seq <> 1 + coalesce((SELECT max(seq) FROM event), 0)
BEGIN SELECT RAISE(ABORT, 'an event follows the one before'); END;
"""


# What follows from the events, for lists and searches; `run_words` has the place of `run` as its rowid.
_RUNS = """
CREATE TABLE projection (
    name    TEXT PRIMARY KEY,
    version INTEGER NOT NULL
) STRICT;
CREATE TABLE run (
    place          INTEGER PRIMARY KEY,
    run_id         TEXT NOT NULL UNIQUE,
    number         INTEGER NOT NULL,
    plate          TEXT NOT NULL,
    routine        TEXT NOT NULL,
    tray           TEXT NOT NULL,
    rehearsal      INTEGER NOT NULL,
    opened_utc     TEXT NOT NULL,
    state          TEXT NOT NULL,
    ended          TEXT,
    elapsed_s      REAL,
    equivalent_s   REAL,
    target_s       REAL,
    reference_degC REAL,
    rate_per_K     REAL,
    bath_min_degC  REAL,
    bath_mean_degC REAL,
    bath_max_degC  REAL,
    marks          INTEGER NOT NULL,
    notes          INTEGER NOT NULL,
    doubt_s        REAL NOT NULL
) STRICT;
CREATE INDEX run_open ON run (place) WHERE state <> 'ended';
CREATE VIRTUAL TABLE run_words USING fts5 (plate, routine, words);
"""

# `burns` and `program_burns` are JSON: [[stops, place], …].
_PRINTS = """
CREATE TABLE print (
    place           INTEGER PRIMARY KEY,
    print_id        TEXT NOT NULL UNIQUE,
    number          INTEGER NOT NULL,
    negative        TEXT NOT NULL,
    run_id          TEXT,
    paper           TEXT NOT NULL,
    grade           TEXT NOT NULL,
    paper_log_range REAL,
    paper_speed     REAL,
    distance_mm     REAL,
    rehearsal       INTEGER NOT NULL,
    opened_utc      TEXT NOT NULL,
    state           TEXT NOT NULL,
    mode            TEXT NOT NULL,
    base_s          REAL,
    burns           TEXT NOT NULL,
    patches         INTEGER NOT NULL,
    chosen_patch    REAL,
    prints          INTEGER NOT NULL,
    planned_s       REAL,
    measured_s      REAL,
    effective_s     REAL,
    doubt_s         REAL NOT NULL,
    program_base_s  REAL,
    program_burns   TEXT,
    verdict         TEXT
) STRICT;
CREATE INDEX print_open ON print (place) WHERE state <> 'ended';
CREATE INDEX print_run ON print (run_id);
"""

_BATHS = """
CREATE TABLE bath (
    place            INTEGER PRIMARY KEY,
    bath_id          TEXT NOT NULL UNIQUE,
    number           INTEGER NOT NULL,
    name             TEXT NOT NULL,
    formula          TEXT NOT NULL,
    kind             TEXT NOT NULL,
    rehearsal        INTEGER NOT NULL,
    made_utc         TEXT NOT NULL,
    state            TEXT NOT NULL,
    volume_ml        REAL NOT NULL,
    done_cm2         REAL NOT NULL,
    runs             INTEGER NOT NULL,
    clearing_s       REAL,
    fresh_clearing_s REAL
) STRICT;
CREATE INDEX bath_open ON bath (place) WHERE state <> 'ended';
"""

# `sides` and `exposure` are JSON: a list of names, an `ExposureNoted`.
_PLATES = """
CREATE TABLE box (
    place       INTEGER PRIMARY KEY,
    box_id      TEXT NOT NULL UNIQUE,
    number      INTEGER NOT NULL,
    name        TEXT NOT NULL,
    size        TEXT NOT NULL,
    emulsion    TEXT NOT NULL,
    sensitivity TEXT,
    speed_index REAL,
    batch       TEXT NOT NULL,
    opened_utc  TEXT NOT NULL,
    rehearsal   INTEGER NOT NULL,
    state       TEXT NOT NULL,
    finished    TEXT NOT NULL
) STRICT;
CREATE TABLE holder (
    place     INTEGER PRIMARY KEY,
    holder_id TEXT NOT NULL UNIQUE,
    number    INTEGER NOT NULL,
    name      TEXT NOT NULL,
    sides     TEXT NOT NULL,
    size      TEXT NOT NULL,
    rehearsal INTEGER NOT NULL,
    state     TEXT NOT NULL,
    set_aside TEXT NOT NULL
) STRICT;
CREATE TABLE plate (
    place       INTEGER PRIMARY KEY,
    plate_id    TEXT NOT NULL UNIQUE,
    number      INTEGER NOT NULL,
    name        TEXT NOT NULL,
    box_id      TEXT NOT NULL,
    box         TEXT NOT NULL,
    rehearsal   INTEGER NOT NULL,
    boxed_utc   TEXT NOT NULL,
    stage       TEXT NOT NULL,
    since_utc   TEXT NOT NULL,
    holder_id   TEXT,
    holder      TEXT,
    side        TEXT,
    loaded_utc  TEXT,
    left_utc    TEXT,
    exposed_utc TEXT,
    exposure    TEXT,
    run_id      TEXT,
    runs        INTEGER NOT NULL,
    filed       TEXT NOT NULL,
    broken      TEXT NOT NULL,
    notes       INTEGER NOT NULL
) STRICT;
CREATE INDEX plate_at_hand ON plate (place) WHERE stage NOT IN ('filed', 'broken');
CREATE INDEX plate_stage ON plate (stage, since_utc);
CREATE INDEX plate_box ON plate (box_id, stage);
CREATE INDEX plate_run ON plate (run_id);
CREATE INDEX plate_side ON plate (holder_id, side, left_utc);
"""

# The rows of runs made anew with their box, their developer and what came of the first plate.
_RUNS_JUDGED = """
DROP TABLE run_words;
DROP TABLE run;
CREATE TABLE run (
    place          INTEGER PRIMARY KEY,
    run_id         TEXT NOT NULL UNIQUE,
    number         INTEGER NOT NULL,
    plate          TEXT NOT NULL,
    routine        TEXT NOT NULL,
    tray           TEXT NOT NULL,
    rehearsal      INTEGER NOT NULL,
    opened_utc     TEXT NOT NULL,
    state          TEXT NOT NULL,
    ended          TEXT,
    elapsed_s      REAL,
    equivalent_s   REAL,
    target_s       REAL,
    reference_degC REAL,
    rate_per_K     REAL,
    bath_min_degC  REAL,
    bath_mean_degC REAL,
    bath_max_degC  REAL,
    marks          INTEGER NOT NULL,
    notes          INTEGER NOT NULL,
    doubt_s        REAL NOT NULL,
    box            TEXT NOT NULL,
    developer      TEXT NOT NULL,
    density        TEXT,
    contrast       TEXT,
    fog            TEXT,
    judged         INTEGER NOT NULL
) STRICT;
CREATE INDEX run_open ON run (place) WHERE state <> 'ended';
CREATE INDEX run_judged ON run (box COLLATE NOCASE, place) WHERE judged > 0;
CREATE VIRTUAL TABLE run_words USING fts5 (plate, routine, words);
"""


def _to_1(connection: sqlite3.Connection) -> None:
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    for statement in _statements(_EVENTS):
        connection.execute(statement)


def _to_2(connection: sqlite3.Connection) -> None:
    for statement in _statements(_RUNS):
        connection.execute(statement)


def _to_3(connection: sqlite3.Connection) -> None:
    for statement in _statements(_PRINTS):
        connection.execute(statement)


def _to_4(connection: sqlite3.Connection) -> None:
    for statement in _statements(_BATHS):
        connection.execute(statement)


def _to_5(connection: sqlite3.Connection) -> None:
    for statement in _statements(_PLATES):
        connection.execute(statement)


def _to_6(connection: sqlite3.Connection) -> None:
    for statement in _statements(_RUNS_JUDGED):
        connection.execute(statement)


def _to_7(connection: sqlite3.Connection) -> None:
    """Give each run what was known of it from its opening on, as one JSON column."""
    connection.execute("ALTER TABLE run ADD COLUMN about TEXT NOT NULL DEFAULT '{}'")


STEPS: tuple[Callable[[sqlite3.Connection], None], ...] = (_to_1, _to_2, _to_3, _to_4, _to_5, _to_6, _to_7)
SCHEMA = len(STEPS)
# What has to stand in every file of this schema; the triggers are what makes the table append-only.
_ALL_MADE = _EVENTS + _RUNS + _PRINTS + _BATHS + _PLATES + _RUNS_JUDGED
STANDING = frozenset(re.findall(r"CREATE (?:VIRTUAL )?(?:TABLE|INDEX|TRIGGER) (\w+)", _ALL_MADE))


def migrate(connection: sqlite3.Connection, path: Path) -> None:
    """Bring the file to the newest schema; refuse what is no journal, or one from a newer program."""
    found = schema_of(connection, path)
    for number, step in enumerate(STEPS[found:], start=found + 1):
        _take(step, number, connection)


def _take(step: Callable[[sqlite3.Connection], None], number: int, connection: sqlite3.Connection) -> None:
    connection.execute("BEGIN IMMEDIATE")
    try:
        step(connection)
        connection.execute(f"PRAGMA user_version = {number}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def schema_of(connection: sqlite3.Connection, path: Path) -> int:
    """Return the file's schema number, 0 for an empty file; refuse what this program can not read."""
    application = _pragma(connection, "application_id")
    found = _pragma(connection, "user_version")
    if application == 0 and found == 0 and _is_empty(connection):
        return 0
    if application != APPLICATION_ID:
        raise JournalRefused(
            "it is the database of another program", where=str(path), allowed="a journal of Embertray"
        )
    if found > SCHEMA:
        newer = f"it was written by a newer Embertray (journal schema {found})"
        raise JournalRefused(newer, where=str(path), allowed=f"schema 1 to {SCHEMA}; use the newer program")
    return found


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    value: int = connection.execute(f"PRAGMA {name}").fetchone()[0]
    return value


def _is_empty(connection: sqlite3.Connection) -> bool:
    return connection.execute("SELECT 1 FROM sqlite_schema").fetchone() is None


def _statements(script: str) -> list[str]:
    """Cut a script into statements; `executescript` would commit the transaction it stands in."""
    statements, open_lines = [], ""
    for line in script.splitlines(keepends=True):
        open_lines += line
        if sqlite3.complete_statement(open_lines):
            statements.append(open_lines)
            open_lines = ""
    return statements
