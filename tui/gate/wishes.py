"""What the gate takes from bench.toml before the screen starts: how bright, the bell, and where the bench is.

Standard library only: the terminal is red before the settings are really read. It is read once, before
anything is drawn; what becomes of the file afterwards is nothing to the gate. A file that is there but cannot
be read leaves the dimmest red to read by; the program behind the gate says what is wrong with it.
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
    """The brightest red, 1 to 255; whether the terminal's bell may sound; the bench's folder and socket."""

    state: Path
    socket: Path
    level: int = UNTESTED_RED
    bell: bool = False


def wishes(path: Path | None = None) -> Wishes:
    """Return what the settings in use say, or those in ``path``."""
    found = path or _settings_path()
    if found is None:
        return _wishes({}, "rehearsal")
    import tomllib

    try:
        said = tomllib.loads(found.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return _wishes({"screen": {"brightest": DIMMEST_RED}}, "bench")
    return _wishes(said, "bench")


def _wishes(said: dict[str, Any], bench: str) -> Wishes:
    own = _table(said, "bench")
    state = _path(os.environ.get("EMBERTRAY_STATE")) or _path(own.get("state")) or _state_path() / bench
    return Wishes(
        state,
        _path(own.get("socket")) or state / "bench.sock",
        _level(_table(said, "screen")),
        _table(said, "sounder").get("body") == "terminal",
    )


def _level(screen: dict[str, Any]) -> int:
    level = screen.get("brightest", UNTESTED_RED)
    return level if type(level) is int and 1 <= level <= 255 else DIMMEST_RED


def _table(said: dict[str, Any], name: str) -> dict[str, Any]:
    table = said.get(name, {})
    return table if isinstance(table, dict) else {}


def _path(named: object) -> Path | None:
    return Path(named) if isinstance(named, str) and named else None


def _settings_path() -> Path | None:
    """Return the settings file in use, found as `firmware_py.settings.paths` finds it."""
    if named := os.environ.get("EMBERTRAY_CONFIG"):
        return Path(named)
    places = [_home("XDG_CONFIG_HOME", ".config") / "embertray", Path("/etc/embertray")]
    return next((p / "bench.toml" for p in places if os.path.exists(p / "bench.toml")), None)  # noqa: PTH110 - never raises


def _state_path() -> Path:
    """Return the folder of all benches' states, as `firmware_py.settings.paths` finds it."""
    return _home("XDG_STATE_HOME", ".local/state") / "embertray"


def _home(variable: str, usual: str) -> Path:
    return Path(os.environ.get(variable, "").strip() or Path.home() / usual)
