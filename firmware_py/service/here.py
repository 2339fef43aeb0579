"""The moment by this machine's own clock and zone, for a command that reads "tomorrow"."""

from __future__ import annotations

from datetime import datetime

from firmware_py.devices.clock import BootClock


def now_here() -> datetime:
    """Return the moment, with the offset of this machine's zone."""
    return BootClock().utc().astimezone()
