"""``embertray logbook label``: what to stick on the bottle of a bath."""

from __future__ import annotations

import argparse
from pathlib import Path

from firmware_py.craft.formula import Formula
from firmware_py.craft.mixing import bottle_cautions, substances_of
from firmware_py.data.formulary import formulas_in, shipped_formulas
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.bath_rows import bath_called
from firmware_py.journal.reading import refusing
from firmware_py.report.sheets.bath_label import bath_label, bottle_of
from firmware_py.report.sheets.write import check_target, write_page
from firmware_py.settings import read_settings
from firmware_py.settings.paths import settings_path
from tui.commands.logbook.book import book_reader, say

UNKNOWN = "Its formula is not at hand: find out what it holds before you use it."


def print_label(args: argparse.Namespace) -> int:
    """Write the label of a bath. Raises `Refused`."""
    check_target(args.output, force=args.force)
    with book_reader(args) as reader, refusing(reader.path):
        row = bath_called(reader.connection, args.wanted)
        bath = BathRecord.replay(reader.read(row.bath_id))
    formula = _formulas().get(bath.made.formula)
    cautions = (UNKNOWN,) if formula is None else bottle_cautions(substances_of(formula), formula.cautions)
    write_page(bath_label(bottle_of(bath, cautions)), args.output, paper="label", force=args.force)
    say(args, {"bath_id": row.bath_id, "file": str(args.output)}, [f"{args.output}: bath {row.name}"])
    return 0


def _formulas() -> dict[str, Formula]:
    """Return the shipped formulas and the bench's own, which count where names meet."""
    configured = settings_path()
    folder = read_settings(configured).bench.formulas if configured else None
    return {**shipped_formulas(), **(formulas_in(Path(folder)) if folder else {})}
