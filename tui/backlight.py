"""The panel's backlight through sysfs: never brighter than asked; plain words where that can not be had."""

from __future__ import annotations

from pathlib import Path


class Backlight:
    """One panel in ``/sys/class/backlight``; ``most`` is the share of its most that full light has."""

    def __init__(self, folder: Path, most: float) -> None:
        self._folder = folder
        self._most = most

    def set(self, share: float) -> tuple[float, str]:
        """Set the backlight to ``share`` (0 to 1) of what it may have.

        Returns by how much (0 to 1) the picture itself must be darkened because the panel stays brighter than
        asked, and what to say of it, or nothing. Without a word from the panel it is taken to be at its most.
        """
        try:
            full = self._read("max_brightness")
        except (OSError, ValueError) as error:
            return self._most * share, f"The backlight can not be set: {_why(error)}"
        asked = round(full * self._most * share) or (1 if share > 0 else 0)
        trouble = self._write(asked)
        try:
            shown = self._read("actual_brightness")
        except (OSError, ValueError):
            shown = full if trouble else asked
        if shown <= asked:
            return 1.0, trouble
        return asked / shown, trouble or f"The backlight stays at {shown} of {full}, and {asked} was asked"

    def _write(self, value: int) -> str:
        try:
            (self._folder / "brightness").write_text(f"{value}\n", encoding="ascii")
        except OSError as error:
            return f"The backlight can not be set: {_why(error)}"
        return ""

    def _read(self, name: str) -> int:
        return int((self._folder / name).read_text(encoding="ascii"))


def _why(error: OSError | ValueError) -> str:
    return (error.strerror or "it does not answer") if isinstance(error, OSError) else "it tells no number"
