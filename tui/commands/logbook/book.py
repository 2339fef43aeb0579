"""Where the book is, and how what it says is printed: as JSON, or in lines."""

from __future__ import annotations

import argparse
from pathlib import Path

import msgspec

from firmware_py.craft.refusal import plain
from firmware_py.journal.lines import escaped
from firmware_py.journal.reading import JournalReader
from firmware_py.settings import read_settings
from firmware_py.settings.paths import journal_path, settings_path, state_folder


def book_path(args: argparse.Namespace) -> Path:
    """Return the journal that is named, or the bench's own."""
    if args.journal is not None:
        return Path(args.journal)
    configured = settings_path()
    return journal_path(state_folder(read_settings(configured) if configured else None))


def book_reader(args: argparse.Namespace) -> JournalReader:
    """Open that journal to be read."""
    return JournalReader.open(book_path(args))


def say(args: argparse.Namespace, value: object, lines: list[str]) -> None:
    """Print a result as JSON, or the lines that tell it: the one way out for what stands in the book.

    No sign reaches the terminal that could move its cursor, change its colours or turn its writing round.
    """
    if args.json:
        print(escaped(msgspec.json.format(msgspec.json.encode(value), indent=2)).decode())
    elif lines:
        print("\n".join(map(plain, lines)))


def fitted(cell: str, width: int) -> str:
    """Return a cell of a list, cut or filled to its width, without control characters."""
    cell = plain(cell)
    return (cell if len(cell) <= width else cell[: width - 1] + "…").ljust(width)
