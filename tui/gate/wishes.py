"""What bench.toml wants of the gate: how bright its red may be, and whether the bell may sound.

Standard library only: the terminal is red before the settings are really read. A file that is there but
can not be read leaves the dimmest red to read by; the program behind the gate says what is wrong with it.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

BELL_VARIABLE = "EMBERTRAY_BELL"
UNTESTED_RED = 200
DIMMEST_RED = 24


@dataclass(frozen=True, slots=True)
class Wishes:
    """The brightest red, 1 to 255, and whether the terminal's bell may sound."""

    level: int = UNTESTED_RED
    bell: bool = False


def wishes(path: Path | None = None) -> Wishes:
    """Return what the settings in use say, or those in ``path``."""
    found = path or _settings_path()
    if found is None:
        return Wishes()
    import tomllib

    try:
        said = tomllib.loads(found.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return Wishes(DIMMEST_RED)
    return Wishes(_level(_table(said, "screen")), _table(said, "sounder").get("body") == "terminal")


def _level(screen: dict[str, Any]) -> int:
    level = screen.get("brightest", UNTESTED_RED)
    return level if type(level) is int and 1 <= level <= 255 else DIMMEST_RED


def _table(said: dict[str, Any], name: str) -> dict[str, Any]:
    table = said.get(name, {})
    return table if isinstance(table, dict) else {}


def _settings_path() -> Path | None:
    """Return the settings file in use, found as `firmware_py.settings.paths` finds it."""
    if named := os.environ.get("EMBERTRAY_CONFIG"):
        return Path(named)
    config = Path(os.environ.get("XDG_CONFIG_HOME", "").strip() or Path.home() / ".config")
    places = [config / "embertray", Path("/etc/embertray")]
    return next((p / "bench.toml" for p in places if (p / "bench.toml").exists()), None)
