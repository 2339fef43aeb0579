"""Whether the screen is black for a plate that bears no light: a file says so, whoever dies meanwhile.

Standard library only, and little of it: the gate asks this before it writes a word of its own.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

DARK_FILE = "screen-dark"
BOOT_ID = Path("/proc/sys/kernel/random/boot_id")


def is_dark(folder: Path) -> bool:
    """Return whether the screen that keeps its state in ``folder`` is black, or was when it died.

    What was said before the machine last started counts no more: then the bench itself has to say it.
    """
    try:
        return (folder / DARK_FILE).read_text(encoding="ascii") == _boot_id()
    except (OSError, ValueError):
        return False


def say_dark(folder: Path) -> None:
    """Say that the screen is black."""
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        (folder / DARK_FILE).write_text(_boot_id(), encoding="ascii")


def say_light(folder: Path) -> None:
    """Say that the screen is black no more."""
    with suppress(OSError):
        (folder / DARK_FILE).unlink(missing_ok=True)


def _boot_id() -> str:
    return BOOT_ID.read_text(encoding="ascii").strip()
