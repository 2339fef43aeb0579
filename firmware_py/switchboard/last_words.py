"""What the switchboard leaves in a file when it ends: the last exposures, in case nobody heard of them."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterable
from pathlib import Path

from firmware_py.craft.refusal import Refused
from firmware_py.switchboard.lines import read_report, write_line
from firmware_py.switchboard.reports import ExposureEnded

# The controller asks for one exposure at a time; a few more cost nothing.
KEPT = 8
_LARGEST_FILE = 64 * 1024


def leave_last_words(path: str, ended: Iterable[ExposureEnded]) -> None:
    """Write the exposures into the file, in the place of what it held; a disk that refuses is let be."""
    words = b"".join(write_line(report) for report in ended)
    with contextlib.suppress(OSError):
        file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_CLOEXEC, 0o600)
        try:
            os.write(file, words)
        finally:
            os.close(file)


def read_last_words(path: Path) -> dict[str, ExposureEnded]:
    """Return the exposures that an earlier switchboard left in the file, by id; none that can not be read."""
    try:
        with path.open("rb") as file:
            lines = file.read(_LARGEST_FILE).splitlines()
    except OSError:
        return {}
    found: dict[str, ExposureEnded] = {}
    for line in lines:
        with contextlib.suppress(Refused):
            report = read_report(line)
            if isinstance(report, ExposureEnded):
                found[report.id] = report
    return found


def last_words_path(journal: Path) -> Path:
    """Return the file beside a journal in which the switchboard leaves its last words."""
    return journal.with_name(journal.name + ".lamp")
