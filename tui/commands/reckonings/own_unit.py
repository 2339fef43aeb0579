"""Values of fields that have one unit: a bare number is in it, as on the screen; another unit is written."""

from __future__ import annotations

import re

from firmware_py.craft import units

_BARE = re.compile(r"\s*[+-]?[0-9]{1,7}(?:[.,][0-9]{0,6})?\s*")


def bare_degC(text: str, *, where: str) -> float:
    """Return a temperature [degC]; a bare number is degrees Celsius. Raises `Refused`."""
    return units.read_temperature_degC(_with(text, "degC"), where=where)


def bare_ml(text: str, *, where: str) -> float:
    """Return a volume [ml]; a bare number is millilitres. Raises `Refused`."""
    return units.read_volume_ml(_with(text, "ml"), where=where)


def bare_mm(text: str, *, where: str) -> float:
    """Return a length [mm]; a bare number is millimetres. Raises `Refused`."""
    return units.read_length_mm(_with(text, "mm"), where=where)


def _with(text: str, unit: str) -> str:
    return f"{text.strip().replace(',', '.')} {unit}" if _BARE.fullmatch(text) else text
