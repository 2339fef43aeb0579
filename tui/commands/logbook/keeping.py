"""Keeping the book whole and in good copies: checked, saved, exported, backed up, brought together."""

from __future__ import annotations

import argparse
import sys

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.journal.copies import backup, whole_or_not_at_all, write_lines, write_table
from firmware_py.journal.merge import Merged, import_lines, merge_journal
from firmware_py.journal.reading import JournalReader, refusing
from firmware_py.journal.salvage import Saved, rest_of, salvage
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import Findings, verify
from tui.commands.logbook.book import book_path, book_reader, say


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
        return _say_merged(args, merge_journal(journal, args.other, leave_out=args.leave_out))


def rebuild_lists(args: argparse.Namespace) -> int:
    """Make the lists anew from the events."""
    path = book_path(args)
    JournalReader.open(path).close()  # never make a journal where there is none
    with Journal.open(path) as journal:
        rows, left_out = journal.rebuild(leave_out=args.leave_out)
    told = {"rows": rows, "left_out": [fault._asdict() for fault in left_out]}
    lines = [f"{rows} rows listed anew: runs, prints, baths, boxes, holders, plates."]
    say(args, told, [*lines, *(f"Left out: {kind} {subject}: {what}" for kind, subject, what in left_out)])
    return 0


def _say_merged(args: argparse.Namespace, merged: Merged) -> int:
    lines = [f"{merged.events} new events in {merged.subjects} runs and sessions."]
    left_out = [f"Left out, for it is damaged: {words}" for words in merged.left_out]
    say(args, merged._asdict(), [*(lines if merged.events else ["Nothing new."]), *left_out])
    return 0


def _verdict(found: Findings, saved: Saved | None) -> dict[str, object]:
    faults = [fault._asdict() for fault in found.faults]
    counts = {"events": found.events, "subjects": found.subjects, "runs": found.runs}
    return {**counts, "faults": faults, "saved": msgspec.to_builtins(saved)}


def _verdict_lines(found: Findings) -> list[str]:
    if not found.faults:
        return [f"{found.events} events of {found.runs} runs: all whole, every row follows from its events."]
    return [f"{fault.where}: {fault.what}" for fault in found.faults]


def _saved_lines(saved: Saved | None, args: argparse.Namespace) -> list[str]:
    if saved is None:
        return []
    lines = [f"Saved {saved.events} events to {args.save}, {saved.mended} of them mended."]
    if saved.rest:
        lines.append(f"{saved.rest} more could be read but not saved; they stand in {rest_of(args.save)}.")
    return lines
