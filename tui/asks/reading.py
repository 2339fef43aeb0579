"""Reads what was typed into a question; refuses, in words, what is no answer to it."""

from __future__ import annotations

from fractions import Fraction

from firmware_py.craft.refusal import Refused, shown


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


def read_seconds(text: str, *, where: str) -> float:
    """Return a time of exposure [s]; a bare number is seconds, ``1:30`` and ``2 min`` are read too."""
    read_name(text, where=where, example="8, or 1:30")
    try:
        return read_number(text, where=where, example="8, or 1:30")
    except Refused:
        from firmware_py.craft.units import read_time_s

        return read_time_s(text, where=where)


def read_mm(text: str, *, where: str) -> float:
    """Return a distance [mm]; a bare number is millimetres."""
    read_name(text, where=where, example="600, or 24 in")
    try:
        return read_number(text, where=where, example="600, or 24 in")
    except Refused:
        from firmware_py.craft.units import read_length_mm

        return read_length_mm(text, where=where)


def read_count(text: str, *, where: str) -> int:
    """Return a whole number. Raises Refused."""
    plain = read_name(text, where=where, example="3")
    if not (plain.isascii() and plain.isdecimal() and len(plain) < 6):
        raise Refused(f"{shown(text)} is no whole number", where=where, allowed="for example 3")
    return int(plain)


def read_volume_ml(text: str, *, where: str) -> float:
    """Return a volume [ml]; a bare number is millilitres."""
    read_name(text, where=where, example="500, or 20 imperial fl oz")
    try:
        return read_number(text, where=where, example="500, or 20 imperial fl oz")
    except Refused:
        from firmware_py.craft import units

        return units.read_volume_ml(text, where=where)
