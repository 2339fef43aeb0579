"""Reads what was typed into a question; refuses, in words, what is no answer to it."""

from __future__ import annotations

from datetime import datetime, time
from fractions import Fraction
from threading import Thread
from typing import Protocol

from firmware_py.craft.refusal import Refused, shown
from firmware_py.facts.views.bench import BenchView


def read_name(text: str, *, where: str = "name", example: str) -> str:
    """Return what was typed. Raises Refused where nothing was."""
    if not text.strip():
        raise Refused("nothing is typed", where=where, allowed=f"for example {example}; Escape leaves it")
    return text.strip()


def read_number(text: str, *, where: str, example: str) -> float:
    """Return a number as a person types it: ``8``, ``0,5``, ``1/2``, ``1 1/2``. Raises Refused."""
    read_name(text, where=where, example=example)
    try:
        return float(sum(Fraction(part) for part in text[:40].strip().replace(",", ".").split()))
    except (ValueError, ZeroDivisionError):
        raise Refused(f"{shown(text)} is no number", where=where, allowed=f"for example {example}") from None


def ready_dates() -> None:
    """Load, on a thread, what reads dates: a key waits for nothing."""
    from firmware_py.craft.dates import load

    Thread(target=load, name="dates", daemon=True).start()


def read_past(text: str, view: BenchView, *, where: str) -> str:
    """Return a day, or a moment of it, as ISO text: as a person says it, by this machine's zone.

    A day by itself stays one, as the bench reads it. Raises Refused.
    """
    from firmware_py.craft.dates import read_when

    read_name(text, where=where, example="2026-03-14, or yesterday")
    now = datetime.fromisoformat(view.utc).astimezone()
    moment = read_when(text, now=now, where=where)
    return moment.date().isoformat() if moment.time() == time() else moment.isoformat(timespec="minutes")


def read_seconds(text: str, *, where: str) -> float:
    """Return a time of exposure [s]; a bare number is seconds, ``1:30`` and ``2 min`` are read too."""
    from firmware_py.craft.units import read_time_s

    return _bare_or(read_time_s, text, where=where, example="8, or 1:30")


def read_mm(text: str, *, where: str) -> float:
    """Return a distance [mm]; a bare number is millimetres."""
    from firmware_py.craft.units import read_length_mm

    return _bare_or(read_length_mm, text, where=where, example="600, or 24 in")


def read_volume_ml(text: str, *, where: str) -> float:
    """Return a volume [ml]; a bare number is millilitres."""
    from firmware_py.craft import units

    return _bare_or(units.read_volume_ml, text, where=where, example="500, or 20 imperial fl oz")


def read_count(text: str, *, where: str) -> int:
    """Return a whole number. Raises Refused."""
    plain = read_name(text, where=where, example="3")
    if not (plain.isascii() and plain.isdecimal() and len(plain) < 6):
        raise Refused(f"{shown(text)} is no whole number", where=where, allowed="for example 3")
    return int(plain)


class _InUnits(Protocol):
    """Reads a value that is written with its unit."""

    def __call__(self, text: str, *, where: str) -> float: ...


def _bare_or(in_units: _InUnits, text: str, *, where: str, example: str) -> float:
    """Return a bare number, or what is written with its unit. Raises Refused; nothing typed is neither."""
    read_name(text, where=where, example=example)
    try:
        return read_number(text, where=where, example=example)
    except Refused:
        return in_units(text, where=where)
