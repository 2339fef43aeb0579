"""The relay lines of a bench.toml and their safe levels, read with the standard library alone.

Not `settings`, which takes a second to load on a small board: what clears the pins after a death is needed
at once, and must work with half of the house missing.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from firmware_py.craft.refusal import Refused


def wired_lines(path: Path) -> tuple[str, str | None, dict[int, bool]]:
    """Return the way to the pins, the file that records mock ones, and the safe level of each relay's line.

    Raises Refused where the file cannot be read or a relay's pin is not a number.
    """
    try:
        settings = tomllib.loads(path.read_text(encoding="utf-8"))
        bench = settings.get("bench", {})
        levels = dict(_line(relay) for relay in settings.get("relay", {}).values() if "pin" in relay)
        return str(bench.get("pins", "board")), bench.get("pin_record"), levels
    except (OSError, ValueError, AttributeError, TypeError) as error:
        raise Refused(f"no relay lines to be read ({error})", where=str(path)) from error


def _line(relay: dict[str, Any]) -> tuple[int, bool]:
    pin, active_high = relay["pin"], relay.get("active_high", True)
    if type(pin) is not int or type(active_high) is not bool:
        raise ValueError(f"pin = {pin!r}, active_high = {active_high!r}")
    return pin, not active_high
