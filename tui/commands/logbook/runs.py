"""The runs in the book: a line for each, and what came of one."""

from __future__ import annotations

import argparse

import msgspec

from firmware_py.journal.outcome import outcome
from firmware_py.journal.reading import refusing
from firmware_py.journal.run_list import run_called, runs_with_words
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.run_rows import RunRow
from firmware_py.report.told import clock
from tui.commands.logbook.book import book_reader, fitted, say
from tui.commands.logbook.run_lines import run_lines

_WIDTHS = (8, 16, 20, 10, 9, 5, 5)  # 79 columns with a space between


def list_runs(args: argparse.Namespace) -> int:
    """Print a line for each run: id's end, opened (UTC), plate, routine, end, time, equivalent time."""
    with book_reader(args) as reader, refusing(reader.path):
        runs = runs_with_words(reader.connection, args.find, args.limit)
    say(args, {"runs": [row._asdict() for row in runs]}, [_line(row) for row in runs] or ["No runs."])
    return 0


def show_run(args: argparse.Namespace) -> int:
    """Print what came of one run, from its events."""
    with book_reader(args) as reader, refusing(reader.path):
        row = run_called(reader.connection, args.wanted)
        came = outcome(RunRecord.replay(reader.read(row.run_id)))
    told = msgspec.to_builtins(came)
    say(args, told, [f"run {came.run_id}, opened {came.opened_utc}", *run_lines(came)])
    return 0


def _line(row: RunRow) -> str:
    times = [clock(seconds) if seconds is not None else "" for seconds in (row.elapsed_s, row.equivalent_s)]
    opened = row.opened_utc[:16].replace("T", " ")
    cells = [row.run_id[-8:], opened, row.plate, row.routine, row.ended or row.state, *times]
    return " ".join(map(fitted, cells, _WIDTHS)).rstrip()
