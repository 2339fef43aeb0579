"""The list of runs: pages of it, those still open, those with certain words, and one by a piece of its id."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterable

from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.run_rows import COLUMNS, RunRow

PAGE = 50
_RUN = ", ".join(f"run.{name}" for name in RunRow._fields)
_SHORTEST_PIECE = 4
LONGEST_SEARCH = 200
# A date (of a year, a month, a day), or a word.
_PIECE = re.compile(r"\d{4}-\d{2}(?:-\d{2})?|\w+")


def newest_runs(connection: sqlite3.Connection, limit: int = PAGE, skip: int = 0) -> list[RunRow]:
    """Return ``limit`` runs, newest first, after the first ``skip``."""
    query = f"SELECT {COLUMNS} FROM run ORDER BY place DESC LIMIT ? OFFSET ?"  # noqa: S608 - constants
    return _rows(connection.execute(query, (limit, skip)))


def runs_before(connection: sqlite3.Connection, run_id: str, limit: int = PAGE) -> list[RunRow]:
    """Return the ``limit`` runs that come after ``run_id`` in the list, newest first: its next page."""
    query = (
        f"SELECT {COLUMNS} FROM run WHERE place < (SELECT place FROM run WHERE run_id = ?) "  # noqa: S608 - constants
        "ORDER BY place DESC LIMIT ?"
    )
    return _rows(connection.execute(query, (run_id, limit)))


def open_runs(connection: sqlite3.Connection) -> list[RunRow]:
    """Return the runs that have not ended, oldest first."""
    query = f"SELECT {COLUMNS} FROM run WHERE state <> 'ended' ORDER BY place"  # noqa: S608 - constants
    return _rows(connection.execute(query))


def runs_with_words(
    connection: sqlite3.Connection, words: str, limit: int = PAGE, skip: int = 0
) -> list[RunRow]:
    """Return runs in which every one of ``words`` begins a word (a single sign: is one), newest first.

    Looked through are plate, box, routine, developer, tray, date, marks, notes and verdicts. A date or a part
    of it (2026-05, 2026-05-14) is taken as one word. Whatever else is typed only parts words.
    """
    match = matching(words)
    if not match:
        return newest_runs(connection, limit, skip)
    query = (
        f"SELECT {_RUN} FROM run_words JOIN run ON run.place = run_words.rowid "  # noqa: S608 - constants
        "WHERE run_words MATCH ? ORDER BY run_words.rowid DESC LIMIT ? OFFSET ?"
    )
    return _rows(connection.execute(query, (match, limit, skip)))


def runs_found(
    connection: sqlite3.Connection, words: str, limit: int = PAGE, *, after: str | None = None
) -> list[RunRow]:
    """Return ``limit`` runs with ``words`` (as `runs_with_words`) that come after a run in the list."""
    match = matching(words)
    if after is None:
        return runs_with_words(connection, words, limit)
    if not match:
        return runs_before(connection, after, limit)
    query = (
        f"SELECT {_RUN} FROM run_words JOIN run ON run.place = run_words.rowid "  # noqa: S608 - constants
        "WHERE run_words MATCH ? AND run_words.rowid < (SELECT place FROM run WHERE run_id = ?) "
        "ORDER BY run_words.rowid DESC LIMIT ?"
    )
    return _rows(connection.execute(query, (match, after, limit)))


def matching(words: str) -> str:
    """Return what FTS5 is asked for by these words; nothing of them is ever taken as its own language.

    A single sign and a date are whole words: as beginnings they would be those of half the book.
    """
    return " ".join(_asked(piece) for piece in _PIECE.findall(words[:LONGEST_SEARCH]))


def _asked(piece: str) -> str:
    words = re.findall(r"\w+", piece)
    is_whole = len(words) > 1 or len(piece) == 1
    return f'"{" ".join(words)}"' + ("" if is_whole else "*")


def run_called(connection: sqlite3.Connection, piece: str) -> RunRow:
    """Return the one run whose id begins or ends with ``piece``; ``last`` is the newest.

    Raises `JournalRefused` where there is none, or more than one.
    """
    found = newest_runs(connection, 1) if piece == "last" else _with_piece(connection, piece.lower())
    if len(found) == 1:
        return found[0]
    if not found:
        raise JournalRefused(
            "there is no such run", where=f"run {piece!r}", allowed="see `embertray logbook list`"
        )
    several = ", ".join(row.run_id for row in found)
    raise JournalRefused("several runs begin or end so", where=f"run {piece!r}", allowed=several)


def _with_piece(connection: sqlite3.Connection, piece: str) -> list[RunRow]:
    if not re.fullmatch(rf"[0-9a-f-]{{{_SHORTEST_PIECE},36}}", piece):
        rule = f"{_SHORTEST_PIECE} to 36 of the digits, letters a to f and dashes of its id, or last"
        raise JournalRefused("this can not be a run's id", where=f"run {piece!r}", allowed=rule)
    query = f"SELECT {COLUMNS} FROM run WHERE run_id LIKE ? OR run_id LIKE ? ORDER BY place DESC LIMIT 4"  # noqa: S608 - constants
    return _rows(connection.execute(query, (piece + "%", "%" + piece)))


def _rows(found: Iterable[tuple[object, ...]]) -> list[RunRow]:
    return [row._replace(rehearsal=bool(row.rehearsal)) for row in map(RunRow._make, found)]
