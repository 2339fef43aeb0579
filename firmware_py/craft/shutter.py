"""Exposure times as a photographer says and sets them, three to the stop."""

from __future__ import annotations

import math
from bisect import bisect

from firmware_py.craft.limits import within

__all__ = ["say_exposure", "write_exposure"]

# The usual engravings, and on by the same steps in minutes and hours. Common practice, no source.
_PARTS = (
    1000, 800, 640, 500, 400, 320, 250, 200, 160, 125, 100, 80, 60, 50,
    40, 30, 25, 20, 15, 13, 10, 8, 6, 5, 4, 3,
)  # fmt: skip
_SECONDS = (0.4, 0.5, 0.6, 0.8, 1, 1.3, 1.6, 2, 2.5, 3, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30, 40, 50)
_LONG = (1, 4 / 3, 5 / 3, 2, 2.5, 3, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30, 40, 50)
_MINUTES = tuple(60 * minutes for minutes in _LONG)
_HOURS = tuple(3600 * hours for hours in (1, 4 / 3, 5 / 3, 2, 2.5, 3, 4, 5, 6, 8, 10, 13, 16, 20, 24))
_TIMES_S = (*(1 / part for part in _PARTS), *_SECONDS, *_MINUTES, *_HOURS)
_LOGS = tuple(math.log(time_s) for time_s in _TIMES_S)


def say_exposure(time_s: float) -> str:
    """Say an exposure [s] to the nearest third of a stop: "1/2 s", "2 s", "1 min 20 s".

    Outside 1/1000 s to a day it says "shorter than" or "longer than". Refuses what is not above zero.
    Source: the usual engravings, common practice, no source.
    """
    return _in_words(time_s, " ", {"h": " h", "m": " min", "s": " s"})


def write_exposure(time_s: float) -> str:
    """Write an exposure [s] as short as a table needs it: "1/2s", "2s", "1m20s", "1h20m".

    Source: as `say_exposure`.
    """
    return (
        _in_words(time_s, "", {"h": "h", "m": "m", "s": "s"})
        .replace("shorter than ", "<")
        .replace("longer than ", ">")
    )


def _in_words(time_s: float, gap: str, units: dict[str, str]) -> str:
    within("time", time_s, 1e-9, 1e9)
    near_s = _nearest(time_s)
    words = _spelt(near_s, gap, units)
    if time_s < _TIMES_S[0] / 1.15:
        return f"shorter than {words}"
    return f"longer than {words}" if time_s > _TIMES_S[-1] * 1.15 else words


def _nearest(time_s: float) -> float:
    place = bisect(_LOGS, math.log(time_s))
    around = range(max(0, place - 1), min(len(_TIMES_S), place + 1))
    return _TIMES_S[min(around, key=lambda one: abs(_LOGS[one] - math.log(time_s)))]


def _spelt(time_s: float, gap: str, units: dict[str, str]) -> str:
    if time_s < 0.4 or time_s == 0.5:
        return f"1/{round(1 / time_s)}{units['s']}"
    if time_s < 60:
        return f"{time_s:g}{units['s']}"
    minutes, seconds = divmod(round(time_s), 60)
    hours, minutes = divmod(minutes, 60)
    parts = ((hours, "h"), (minutes, "m"), (seconds, "s"))
    return gap.join(f"{number}{units[unit]}" for number, unit in parts if number)
