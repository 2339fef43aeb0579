"""``embertray logbook sheet``: the page of one run, with the prints made of its plate."""

from __future__ import annotations

import argparse

from firmware_py.journal.exposed import Exposures
from firmware_py.journal.print_outcome import PrintOutcome
from firmware_py.journal.print_rows import newest_prints
from firmware_py.journal.reading import JournalReader, refusing
from firmware_py.journal.run_list import run_called
from firmware_py.report.sheets.exposure_block import exposure_facts
from firmware_py.report.sheets.history import history_of
from firmware_py.report.sheets.run_sheet import run_page
from firmware_py.report.sheets.write import check_target, write_page
from tui.commands.logbook.book import book_reader, say
from tui.commands.logbook.prints import outcome_or_refusal

_ALL = 1_000_000


def print_sheet(args: argparse.Namespace) -> int:
    """Write the sheet of a run. Raises `Refused`."""
    check_target(args.output, force=args.force)
    with book_reader(args) as reader, refusing(reader.path):
        run_id = run_called(reader.connection, args.wanted).run_id
        exposed = Exposures(reader.connection).of_run(run_id)
        told = exposure_facts(exposed)
        page = run_page(history_of(reader.read(run_id)), _prints(reader, run_id), exposure=told)
    write_page(page, args.output, paper=args.paper, force=args.force)
    say(args, {"run_id": run_id, "file": str(args.output)}, [f"{args.output}: run {run_id}"])
    return 0


def _prints(reader: JournalReader, run_id: str) -> list[PrintOutcome]:
    """Return the prints made of a run's plate that can be read, oldest first."""
    rows = newest_prints(reader.connection, _ALL, of_run=run_id)
    came = [outcome_or_refusal(reader, row.print_id) for row in reversed(rows)]
    return [made for made in came if isinstance(made, PrintOutcome)]
