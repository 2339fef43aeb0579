"""Writing a page to a file: its ending says as what; a file that stands is left unless told otherwise."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import cast

from firmware_py.craft.refusal import Refused
from firmware_py.journal.copies import require_new, whole_or_not_at_all
from firmware_py.report.sheets.page import Page, Paper

Printer = Callable[[Page, Paper], bytes]
# ending -> (room, printer); each room imports what it needs of the extra.
PRINTERS: dict[str, tuple[str, str]] = {
    ".html": ("firmware_py.report.sheets.html", "html_of"),
    ".svg": ("firmware_py.report.sheets.drawn", "svg_of"),
    ".pdf": ("firmware_py.report.sheets.drawn", "pdf_of"),
}
EXTRA = "pip install 'embertray[sheets]'"
_OF_THE_EXTRA = ("jinja2", "markupsafe", "matplotlib", "numpy")


def check_target(target: Path, *, force: bool = False) -> None:
    """Refuse a file that no sheet can be written to: before anything is read or reckoned."""
    if target.suffix.lower() not in PRINTERS:
        found = f"a sheet can not be written as {target.suffix!r}" if target.suffix else "it has no ending"
        raise Refused(found, where=str(target), allowed=", ".join(PRINTERS))
    if target.is_dir():
        raise Refused("this is a folder", where=str(target), allowed="the name of a file")
    if not target.parent.is_dir():
        raise Refused("there is no such folder", where=str(target.parent), allowed="a folder that stands")
    if not force:
        require_new(target)


def write_page(page: Page, target: Path, *, paper: Paper = "A4", force: bool = False) -> None:
    """Write a page to ``target``, whole or not at all.

    Raises `Refused` for an unknown ending, a file that stands already (unless ``force``), a place that can
    not be written, and where the extra that prints is not installed.
    """
    check_target(target, force=force)
    printed = _printed(page, target, paper)
    try:
        with whole_or_not_at_all(target, over=force) as part:
            part.write_bytes(printed)
    except OSError as error:
        raise Refused(f"it can not be written: {error.strerror}", where=str(target)) from error


def _printed(page: Page, target: Path, paper: Paper) -> bytes:
    room, name = PRINTERS[target.suffix.lower()]
    try:
        printer = cast("Printer", getattr(import_module(room), name))
        return printer(page, paper)
    except ModuleNotFoundError as error:
        wanted = (error.name or "").partition(".")[0]
        if wanted not in _OF_THE_EXTRA:
            raise
        raise Refused(
            f"{wanted} is not installed", where="sheet", allowed=f"with the extra: {EXTRA}"
        ) from error
