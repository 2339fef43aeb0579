"""A share of power from a relay that knows only on and off: on for a part of each window of time."""

from __future__ import annotations

from firmware_py.craft.limits import above_zero, not_negative


def on_time_s(share: float, window_s: float, shortest_s: float) -> float:
    """Return how long [s] of a window of ``window_s`` [s] a relay is on to give ``share`` (0 to 1) of power.

    A pulse or a pause shorter than ``shortest_s`` [s] only wears the relay: it becomes none. A share outside
    0 to 1 counts as the nearer end. Raises `Refused` for a window not above 0 or a shortest below 0.
    Source: common practice, no source.
    """
    above_zero("window, s", window_s)
    not_negative("shortest pulse, s", shortest_s)
    wanted_s = min(1.0, max(0.0, share)) * window_s
    if wanted_s < shortest_s:
        return 0.0
    return window_s if window_s - wanted_s < shortest_s else wanted_s
