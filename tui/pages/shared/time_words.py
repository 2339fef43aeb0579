"""Times as a person reads them, and when the next digit changes."""

from __future__ import annotations

import math

SAME_MOMENT_S = 1e-6


def time_words(whole_s: int) -> str:
    """Return seconds as ``m:ss``, or ``h:mm:ss`` from an hour and forty minutes on."""
    if whole_s >= 6000:
        return f"{whole_s // 3600}:{whole_s // 60 % 60:02d}:{whole_s % 60:02d}"
    return f"{whole_s // 60}:{whole_s % 60:02d}"


def left_words(left_s: float) -> str:
    """Return time left [s]: 0:00 only when it is over."""
    return time_words(max(0, math.ceil(left_s - SAME_MOMENT_S)))


def gone_words(gone_s: float) -> str:
    """Return time gone [s]: a second counts when it is full."""
    return time_words(max(0, math.floor(gone_s + SAME_MOMENT_S)))


def next_change_s(shown_s: float, *, falling: bool) -> float:
    """Return in how many seconds the shown time ``shown_s`` [s], falling or rising, changes its digits."""
    part = shown_s - math.floor(shown_s + SAME_MOMENT_S)
    left = part if falling else 1.0 - part
    return min(1.0, left) if left > SAME_MOMENT_S else 1.0


def about(seconds: float) -> str:
    """Return a span that is only roughly known: ``8 s``, ``2 min``."""
    return f"{seconds:.0f} s" if seconds < 90 else f"{seconds / 60:.0f} min"


def printable(text: str) -> str:
    """Return text as one line without anything that is not text."""
    return "".join(sign if sign.isprintable() else " " for sign in text).strip()


def cut_between(text: str, width: int, *, between: str) -> str:
    """Return text no longer than ``width``; where it was cut, only whole parts stand before the mark."""
    if len(text) <= width:
        return text
    whole = text[: max(0, width - 1)].rpartition(between)[0]
    return f"{whole}{between}…" if whole else cut(text, width)


def cut(text: str, width: int) -> str:
    """Return text no longer than ``width``, its end marked where it was cut."""
    return text if len(text) <= width else text[: max(0, width - 1)] + "…"
