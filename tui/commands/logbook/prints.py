"""``embertray logbook prints``: what came of the prints, newest first, or of those of one plate's run."""

from __future__ import annotations

import argparse
from typing import Any

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.journal.print_outcome import PrintOutcome, print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_rows import newest_prints
from firmware_py.journal.reading import JournalReader, refusing
from firmware_py.journal.run_list import run_called
from tui.commands.logbook.book import book_reader, say
from tui.commands.logbook.print_lines import print_lines


def list_prints(args: argparse.Namespace) -> int:
    """Print what came of each print: strip, base, burns, planned and measured times. Raises `Refused`."""
    with book_reader(args) as reader, refusing(reader.path):
        of_run = run_called(reader.connection, args.of_run).run_id if args.of_run else None
        rows = newest_prints(reader.connection, args.limit, of_run=of_run)
        came = [outcome_or_refusal(reader, row.print_id) for row in rows]
    told = [
        {"print_id": row.print_id, "damaged": made.line}
        if isinstance(made, Refused)
        else msgspec.to_builtins(made)
        for row, made in zip(rows, came, strict=True)
    ]
    lines = [line for made in told for line in (*_lines(made), "")][:-1]
    say(args, {"prints": told}, lines or ["No prints."])
    return 0


def outcome_or_refusal(reader: JournalReader, print_id: str) -> PrintOutcome | Refused:
    """Return what came of a print, or why it cannot be read: one that is damaged must not hide the others."""
    try:
        return print_outcome(PrintRecord.replay(reader.read(print_id)))
    except Refused as refused:
        return refused


def _lines(told: dict[str, Any]) -> list[str]:
    if "damaged" in told:
        return [f"Print {told['print_id']} cannot be read: {told['damaged']}"]
    return list(print_lines(told))
