"""What a watcher of the heater is shown: a reading each second of water that goes as the test says."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.bench.warmth.heat_facts import HeatSeen, HeatWatch
from firmware_py.devices.probe import NoReading, Reading


def objections(
    watch: HeatWatch,
    water_degC: Callable[[float], float | None],
    *,
    seconds: int,
    on: Callable[[float], bool] = lambda _: False,
    since_s: float = -1e9,
    room_degC: float | None = None,
) -> list[tuple[float, str]]:
    """Show a watcher water for so many seconds; return when it objected, and how.

    Water of None is a probe that is silent. The relay is as it is since ``since_s``, or its last switching.
    """
    found = []
    for now in range(seconds):
        now_s = float(now)
        degC = water_degC(now_s)
        word = NoReading("no wire", now_s) if degC is None else Reading(degC, 0.5, now_s)
        if now and on(now_s) != on(now_s - 1.0):
            since_s = now_s
        why = watch.look(HeatSeen(now_s, word, (), on(now_s), since_s, room_degC))
        if why:
            found.append((now_s, why))
    return found


def looked_at(
    watch: HeatWatch,
    water_degC: Callable[[float], float | None],
    *,
    seconds: int,
    on: Callable[[float], bool] = lambda _: False,
    since_s: float = -1e9,
    room_degC: float | None = None,
) -> tuple[float, str] | None:
    """Show a watcher water for so many seconds; return when it first objected, and how."""
    found = objections(watch, water_degC, seconds=seconds, on=on, since_s=since_s, room_degC=room_degC)
    return found[0] if found else None


def stairs(bottom_degC: float, *steps_s: float, step_K: float = 0.25) -> Callable[[float], float]:
    """Return water that is warmer by ``step_K`` from each of these moments on (0.25 K: exact in binary)."""
    return lambda now_s: bottom_degC + step_K * sum(now_s >= step_s for step_s in steps_s)
