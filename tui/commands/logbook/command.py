"""``embertray logbook``: declares what can be done with the book; the deeds stand in a room of their own."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from functools import partial
from importlib import import_module
from pathlib import Path

from firmware_py.craft.refusal import Refused
from firmware_py.journal.refused import ODD_VALUES
from tui.commands.logbook.plate_options import declare_plates, how_many
from tui.commands.sheet_options import declare_paper

Deed = Callable[[argparse.Namespace], int]


def add_logbook(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``embertray logbook`` and what it can do."""
    about = "The book of runs and plates: read it, check it, copy it, bring two of them together."
    parser = commands.add_parser("logbook", help="the book of runs", description=about)
    deeds = parser.add_subparsers(metavar="COMMAND", title="commands", required=True)
    _declare_reading(deeds)
    _declare_copying(deeds)
    _declare_writing(deeds)
    declare_plates(partial(_deed, deeds))


def run_logbook(args: argparse.Namespace) -> int:
    """Do what was asked of the book: ``args.deed`` names the room, and the deed in it."""
    room, _, name = args.deed.partition(".")
    deed: Deed = getattr(import_module(f"tui.commands.logbook.{room}"), name)
    try:
        return deed(args)
    except Refused:
        raise
    except ODD_VALUES:
        _require_whole(args)
        raise


def _require_whole(args: argparse.Namespace) -> None:
    """Refuse a journal that is not whole: whatever a command met with in it is no wonder."""
    from firmware_py.journal.verify import verify
    from tui.commands.logbook.book import book_path

    path = book_path(args)
    faults = verify(path).faults
    if faults:
        allowed = "`embertray logbook verify --save FILE` saves what can be saved"
        raise Refused(f"the file is damaged ({faults[0].what})", where=str(path), allowed=allowed)


def _declare_reading(deeds: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    listed = _deed(deeds, "list", "runs.list_runs", "the runs, newest first")
    listed.add_argument("--find", metavar="WORDS", default="", help="only runs with words that begin so")
    listed.add_argument("--limit", metavar="N", type=how_many, default=20, help="how many (20)")
    shown = _deed(deeds, "show", "runs.show_run", "what came of one run")
    shown.add_argument("wanted", metavar="RUN", help="its id, the beginning or end of it, or: last")
    printed = _deed(deeds, "prints", "prints.list_prints", "what came of the prints, newest first")
    printed.add_argument("--of", metavar="RUN", dest="of_run", help="only those of the plate of this run")
    printed.add_argument("--limit", metavar="N", type=how_many, default=20, help="how many (20)")
    _declare_sheet(deeds)
    _declare_label(deeds)
    _declare_judged(deeds)
    checked = _deed(deeds, "verify", "keeping.verify_book", "hold the whole book against itself")
    checked.add_argument("--save", metavar="FILE", type=Path, help="save what can be saved to a new journal")


def _declare_judged(deeds: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    from tui.commands.logbook.verdict import declare_advice, declare_verdict

    declare_verdict(
        _deed(deeds, "verdict", "verdict.give_verdict", "judge the plate of a run; the last one counts")
    )
    declare_advice(
        _deed(deeds, "advice", "verdict.print_advice", "what its judged plates say of a box's next one")
    )


def _declare_label(deeds: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    printed = _deed(
        deeds, "label", "label.print_label", "a label for the bottle of a bath, as large as an A6"
    )
    printed.add_argument("wanted", metavar="BATH", help="the bath's name, or its whole id")
    _declare_output(printed)
    printed.add_argument("--force", action="store_true", help="let the label replace a file that stands")


def _declare_output(printed: argparse.ArgumentParser) -> None:
    words = "FILE.html, FILE.svg or FILE.pdf"
    printed.add_argument("-o", "--output", metavar="FILE", type=Path, required=True, help=words)


def _declare_sheet(deeds: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    printed = _deed(deeds, "sheet", "sheet.print_sheet", "a page of one run, to print and to file")
    printed.add_argument("wanted", metavar="RUN", help="its id, the beginning or end of it, or: last")
    _declare_output(printed)
    declare_paper(printed)


def _declare_copying(deeds: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    about = "every event as JSON Lines, or every run as a CSV table"
    written = deeds.add_parser("export", help=about, description=_sentence(about))
    written.set_defaults(deed="keeping.export_book", json=False)
    written.add_argument("--journal", metavar="FILE", type=Path, help="the journal; else that of the bench")
    written.add_argument("--format", choices=("json", "csv"), default="json")
    written.add_argument("-o", "--output", metavar="FILE", type=Path, help="a new file; else standard output")
    copied = _deed(deeds, "backup", "keeping.back_up", "a whole copy, also while the controller writes")
    copied.add_argument("file", metavar="FILE", type=Path, help="the new file")


def _declare_writing(deeds: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    read = _deed(deeds, "import", "keeping.import_export", "take in an export; what is there already is left")
    read.add_argument("file", metavar="FILE", type=Path)
    merged = _deed(
        deeds, "merge", "keeping.merge_books", "take in another bench's journal; what is there is left"
    )
    merged.add_argument("other", metavar="OTHER", type=Path)
    merged.add_argument("--leave-out", action="store_true", help="of a damaged one, what is whole")
    anew = _deed(deeds, "rebuild", "keeping.rebuild_lists", "make the lists anew from the events")
    anew.add_argument("--leave-out", action="store_true", help="without what cannot be read any more")


def _deed(
    deeds: argparse._SubParsersAction[argparse.ArgumentParser], name: str, deed: str, about: str
) -> argparse.ArgumentParser:
    parser = deeds.add_parser(name, help=about, description=_sentence(about))
    parser.add_argument("--journal", metavar="FILE", type=Path, help="the journal; else that of the bench")
    parser.add_argument("--json", action="store_true", help="print the result as JSON")
    parser.set_defaults(deed=deed)
    return parser


def _sentence(about: str) -> str:
    return f"{about[0].upper()}{about[1:]}."
