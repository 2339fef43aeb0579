"""Tracebacks go to a file; on the screen one short line says where."""

from __future__ import annotations

import traceback
from pathlib import Path

from tui.private import open_private

FAULT_FILE = "screen-faults.txt"


def kept(error: BaseException, folder: Path, who: str = "The screen") -> str:
    """Write an error's traceback to the end of the faults file, and return the line to show."""
    what = f"{type(error).__name__}: {' '.join(str(error).split())}"[:200]
    file = folder / FAULT_FILE
    try:
        with open_private(file, "a") as book:
            book.write("".join(traceback.format_exception(error)) + "\n")
    except OSError as trouble:
        return f"{who} failed ({what}); not kept: {trouble.strerror}"
    return f"{who} failed ({what}); kept in {file}"
