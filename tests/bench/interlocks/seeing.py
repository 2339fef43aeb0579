"""What a watcher of the heater is shown: a reading each second of water that goes as the test says."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.bench.warmth.heat_facts import HeatSeen, HeatWatch
from firmware_py.devices.probe import Reading


def looked_at(
    watch: HeatWatch,
    water_degC: Callable[[float], float],
    *,
    seconds: int,
    on: Callable[[float], bool] = lambda _: False,
    since_s: float = -1e9,
    room_degC: float | None = None,
) -> tuple[float, str] | None:
    """Show a watcher water for so many seconds; return when it first objected, and how."""
    for now in range(seconds):
        now_s = float(now)
        word = Reading(water_degC(now_s), 0.5, now_s)
        why = watch.look(HeatSeen(now_s, word, (), on(now_s), since_s, room_degC))
        if why:
            return now_s, why
    return None
