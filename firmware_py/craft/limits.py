"""The few limits that many formulas share, each refused in one line that names the quantity."""

from __future__ import annotations

import math

from firmware_py.craft.refusal import Refused


def finite(name: str, value: float) -> float:
    """Return ``value`` if it is a finite number; raises `Refused` naming ``name`` otherwise. Source: own."""
    if not math.isfinite(value):
        raise Refused(f"{value:g}", where=name, allowed="a finite number")
    return value


def not_negative(name: str, value: float) -> float:
    """Return ``value`` if it is finite and 0 or more; raises `Refused` otherwise. Source: own."""
    if not (math.isfinite(value) and value >= 0):
        raise Refused(f"{value:g}", where=name, allowed="a finite number, 0 or more")
    return value


def above_zero(name: str, value: float) -> float:
    """Return ``value`` if it is finite and above 0; raises `Refused` otherwise. Source: own."""
    if not (math.isfinite(value) and value > 0):
        raise Refused(f"{value:g}", where=name, allowed="a finite number above 0")
    return value


def within(name: str, value: float, low: float, high: float) -> float:
    """Return ``value`` if it lies in ``low`` to ``high``, ends included; raises `Refused` otherwise.

    Source: own.
    """
    if not low <= value <= high:
        raise Refused(f"{value:g}", where=name, allowed=f"{low:g} to {high:g}")
    return value
