"""The brightness of the screen, remembered from one time to the next."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from tui.private import open_private
from tui.theme import BRIGHTNESSES, FIRST_BRIGHTNESS

LIGHT_FILE = "screen-light"


def remembered(folder: Path) -> int:
    """Return the brightness, 1 to 9, of the last time; a middle one if none is known."""
    with suppress(OSError, ValueError):
        brightness = int((folder / LIGHT_FILE).read_text(encoding="ascii"))
        if 1 <= brightness <= BRIGHTNESSES:
            return brightness
    return FIRST_BRIGHTNESS


def remember(brightness: int, folder: Path) -> None:
    """Keep the brightness; a folder that can not be written to only makes it forgotten."""
    with suppress(OSError), open_private(folder / LIGHT_FILE, "w") as file:
        file.write(f"{brightness}\n")
