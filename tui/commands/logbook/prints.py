"""``embertray logbook prints``: what came of the prints, newest first, or of those of one plate's run."""

from __future__ import annotations

import argparse

import msgspec

from firmware_py.journal.print_outcome import print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_rows import newest_prints
from firmware_py.journal.reading import refusing
from firmware_py.journal.run_list import run_called
from tui.commands.logbook.book import book_reader, say
from tui.commands.logbook.print_lines import print_lines


def list_prints(args: argparse.Namespace) -> int:
    """Print what came of each print: strip, base, burns, planned and measured times. Raises `Refused`."""
    with book_reader(args) as reader, refusing(reader.path):
        of_run = run_called(reader.connection, args.of_run).run_id if args.of_run else None
        rows = newest_prints(reader.connection, args.limit, of_run=of_run)
        came = [print_outcome(PrintRecord.replay(reader.read(row.print_id))) for row in rows]
    told = msgspec.to_builtins(came)
    lines = [line for made in told for line in (*print_lines(made), "")][:-1]
    say(args, {"prints": told}, lines or ["No prints."])
    return 0
