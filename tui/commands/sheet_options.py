"""The options of every command that writes a sheet, and the line it says of it."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from firmware_py.report.sheets.page import Page


def declare_sheet(parser: argparse.ArgumentParser, what: str) -> None:
    """Declare ``--sheet`` with the paper it is for."""
    parser.add_argument(
        "--sheet", metavar="FILE", type=Path, help=f"{what}, to print: FILE.html, FILE.svg or FILE.pdf"
    )
    declare_paper(parser)


def declare_paper(parser: argparse.ArgumentParser) -> None:
    """Declare what paper a sheet is for, and whether it may replace a file."""
    parser.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="of the sheet (default A4)")
    parser.add_argument("--force", action="store_true", help="let the sheet replace a file that stands")


def write_sheet(page: Page, args: argparse.Namespace) -> str:
    """Write the page to the file of ``--sheet``; return the line that says so. Raises `Refused`."""
    from firmware_py.report.sheets.write import write_page

    write_page(page, args.sheet, paper=args.paper, force=args.force)
    return f"{args.sheet}: {page.title}"
