"""What an outside observer says about a lamp, from the record of its pin alone."""

import math
from dataclasses import dataclass

from firmware_py.devices.pin_record import read_record


@dataclass(frozen=True)
class Span:
    """The line was at its active level from ``on_s`` to ``off_s`` [boot s]; infinite if it still is."""

    on_s: float
    off_s: float = math.inf


def spans(record, pin, *, active_high=True):
    """Return when the line was active. A line let go is left to its pull resistor: not active."""
    found: list[Span] = []
    for entry in (entry for entry in read_record(record) if entry.pin == pin):
        active = entry.driven and entry.high == active_high
        lit = bool(found) and math.isinf(found[-1].off_s)
        if active and not lit:
            found.append(Span(entry.at_s))
        if not active and lit:
            found[-1] = Span(found[-1].on_s, entry.at_s)
    return found
