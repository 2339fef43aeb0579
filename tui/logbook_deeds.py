"""What ``embertray logbook`` does with the book of runs."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.journal.copies import backup, whole_or_not_at_all, write_lines, write_table
from firmware_py.journal.merge import Merged, import_lines, merge_journal
from firmware_py.journal.outcome import outcome
from firmware_py.journal.reading import JournalReader, refusing
from firmware_py.journal.run_list import run_called, runs_with_words
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.run_rows import RunRow
from firmware_py.journal.salvage import Saved, rest_of, salvage
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import Findings, verify
from firmware_py.settings import read_settings, settings_path, state_folder
from tui.run_lines import clock, run_lines

JOURNAL = "journal.db"
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
    say(args, told, [f"run {came.run_id}, opened {came.opened_utc}", *run_lines(told)])
    return 0


def verify_book(args: argparse.Namespace) -> int:
    """Check the whole journal; 1 if anything is wrong with it, whether or not it could be saved."""
    path = book_path(args)
    found = verify(path)
    saved = salvage(path, args.save) if args.save is not None else None
    say(args, _verdict(found, saved), [*_verdict_lines(found), *_saved_lines(saved, args)])
    if found.faults:
        hint = "" if saved else "; `--save FILE` saves what can be saved"
        count = len(found.faults)
        raise Refused(f"{count} fault{'s' * (count > 1)} found{hint}", where=str(path))
    return 0


def export_book(args: argparse.Namespace) -> int:
    """Write every event as JSON Lines, or every run as a CSV table."""
    with book_reader(args) as reader, refusing(reader.path):
        reader.connection.execute("BEGIN")  # one moment of the book, whatever is appended meanwhile
        write = write_lines if args.format == "json" else write_table
        if args.output is None:
            write(reader.connection, sys.stdout.buffer)
            return 0
        with whole_or_not_at_all(args.output) as part, part.open("wb") as file:
            write(reader.connection, file)
    return 0


def back_up(args: argparse.Namespace) -> int:
    """Copy the journal as it stands at one moment."""
    backup(book_path(args), args.file)
    size = args.file.stat().st_size
    say(args, {"file": str(args.file), "size_bytes": size}, [f"{args.file}: {size} bytes"])
    return 0


def import_export(args: argparse.Namespace) -> int:
    """Take in an export."""
    with Journal.open(book_path(args)) as journal:
        return _say_merged(args, import_lines(journal, args.file))


def merge_books(args: argparse.Namespace) -> int:
    """Take in another journal."""
    with Journal.open(book_path(args)) as journal:
        return _say_merged(args, merge_journal(journal, args.other))


def rebuild_lists(args: argparse.Namespace) -> int:
    """Make the lists anew from the events."""
    path = book_path(args)
    JournalReader.open(path).close()  # never make a journal where there is none
    with Journal.open(path) as journal:
        runs = journal.rebuild()
    say(args, {"runs": runs}, [f"{runs} runs listed anew."])
    return 0


def book_path(args: argparse.Namespace) -> Path:
    """Return the journal that is named, or the bench's own."""
    if args.journal is not None:
        return Path(args.journal)
    configured = settings_path()
    return state_folder(read_settings(configured) if configured else None) / JOURNAL


def book_reader(args: argparse.Namespace) -> JournalReader:
    """Open that journal to be read."""
    return JournalReader.open(book_path(args))


def say(args: argparse.Namespace, value: object, lines: list[str]) -> None:
    """Print a result as JSON, or the lines that tell it."""
    if args.json:
        print(msgspec.json.format(msgspec.json.encode(value), indent=2).decode())
    elif lines:
        print("\n".join(lines))


def _line(row: RunRow) -> str:
    times = [clock(seconds) if seconds is not None else "" for seconds in (row.elapsed_s, row.equivalent_s)]
    opened = row.opened_utc[:16].replace("T", " ")
    cells = [row.run_id[-8:], opened, row.plate, row.routine, row.ended or row.state, *times]
    return " ".join(map(fitted, cells, _WIDTHS)).rstrip()


def fitted(cell: str, width: int) -> str:
    """Return a cell of a list, cut or filled to its width, without control characters."""
    cell = "".join(sign if sign.isprintable() else "?" for sign in cell)
    return (cell if len(cell) <= width else cell[: width - 1] + "…").ljust(width)


def _say_merged(args: argparse.Namespace, merged: Merged) -> int:
    lines = [f"{merged.events} new events in {merged.subjects} runs and sessions."]
    say(args, merged._asdict(), lines if merged.events else ["Nothing new."])
    return 0


def _verdict(found: Findings, saved: Saved | None) -> dict[str, object]:
    faults = [fault._asdict() for fault in found.faults]
    counts = {"events": found.events, "subjects": found.subjects, "runs": found.runs}
    return {**counts, "faults": faults, "saved": msgspec.to_builtins(saved)}


def _verdict_lines(found: Findings) -> list[str]:
    if not found.faults:
        return [f"{found.events} events of {found.runs} runs: all whole, every run replays to its row."]
    return [f"{fault.where}: {fault.what}" for fault in found.faults]


def _saved_lines(saved: Saved | None, args: argparse.Namespace) -> list[str]:
    if saved is None:
        return []
    lines = [f"Saved {saved.events} events to {args.save}, {saved.mended} of them mended."]
    if saved.rest:
        lines.append(f"{saved.rest} more could be read but not saved; they stand in {rest_of(args.save)}.")
    return lines
