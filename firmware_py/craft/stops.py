"""f-numbers, the old systems of numbering stops, and the stops between them."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import MappingProxyType

from firmware_py.craft.limits import above_zero
from firmware_py.craft.refusal import Refused, shown

__all__ = [
    "f_number_from_stolze",
    "f_number_from_uniform",
    "f_numbers",
    "name_of_stop",
    "read_f_number",
    "read_stop",
    "stolze_from_f_number",
    "stops_between",
    "uniform_from_f_number",
]

SMALLEST, LARGEST = 0.5, 1024.0
_RANGE = "f/0.5 to f/1024"
_WANTED = '"f/16", "U.S. 64" or "Stolze 2.56"'

# What is engraved is rounded, the aperture is not: f/11 is f/11.31. Engraved name -> whole stops from f/1.
_FULL = (
    "0.5", "0.7", "1", "1.4", "2", "2.8", "4", "5.6", "8", "11", "16", "22", "32", "45", "64", "90", "128",
)  # fmt: skip
ENGRAVED: Mapping[str, int] = MappingProxyType({name: place - 2 for place, name in enumerate(_FULL)})
_HALVES = ("1.2", "1.7", "2.4", "3.4", "4.8", "6.7", "9.5", "13", "19", "27", "38", "54", "76", "108")

_NUMBER = r"([0-9]{1,5}(?:\.[0-9]{0,6})?|\.[0-9]{1,6})"
_F = re.compile(rf"(?:[fF]\s*[/:.]?|1\s*:)\s*{_NUMBER}")
_BARE = re.compile(_NUMBER)
_UNIFORM = re.compile(rf"(?:U\.?\s*S\.?|uniform)(?:\s*No\.?)?\s*{_NUMBER}", re.IGNORECASE)
_STOLZE = re.compile(rf"(?:Stolze|Congress)(?:\s*No\.?)?\s*{_NUMBER}", re.IGNORECASE)


def read_stop(text: str, *, where: str) -> float:
    """Read a stop in any of the systems and return its f-number: "16", "f/16", "U.S. 64", "Stolze 2.56".

    A whole stop as engraved (f/11, f/22, f/45 …) is read as the aperture meant: 11.31, 22.63, 45.25.
    A bare number is an f-number: the other systems are always named. Refuses what is outside f/0.5 to f/1024.
    Source: own; the systems as in `uniform_from_f_number` and `stolze_from_f_number`.
    """
    tidy = text.strip()
    if found := _F.fullmatch(tidy) or _BARE.fullmatch(tidy):
        return _in_range(_meant(found.group(1)), where)
    if found := _UNIFORM.fullmatch(tidy):
        return _in_range(f_number_from_uniform(above_zero(where, float(found.group(1)))), where)
    if found := _STOLZE.fullmatch(tidy):
        return _in_range(f_number_from_stolze(above_zero(where, float(found.group(1)))), where)
    raise Refused(f"{shown(tidy)} is not a stop", where=where, allowed=_WANTED)


def read_f_number(text: str, *, where: str) -> float:
    """Read an f-number, with or without its "f/": "11", "f/6.3"; engraved whole stops as in `read_stop`.

    Source: own.
    """
    tidy = text.strip()
    return read_stop(tidy if tidy[:1] in {"f", "F"} else f"f/{tidy}", where=where)


def uniform_from_f_number(f_number: float) -> float:
    """Return the Uniform System number of an f-number: its square over 16.

    Valid from f/0.5 to f/1024.
    Source: Wall, Dictionary of Photography; Practical Photography par. 77.
    """
    return _in_range(f_number, "f-number") ** 2 / 16


def f_number_from_uniform(uniform: float) -> float:
    """Return the f-number of a Uniform System number: four times its square root.

    Source: as `uniform_from_f_number`. (A modern encyclopaedia gives U.S. 64 as f/45; it is f/32.)
    """
    return 4 * math.sqrt(above_zero("uniform", uniform))


def stolze_from_f_number(f_number: float) -> float:
    """Return the number of Stolze (1886) and of the Paris Congress (1889): the f-number's square over 100.

    Valid from f/0.5 to f/1024. Source: Wall, Dictionary of Photography.
    """
    return _in_range(f_number, "f-number") ** 2 / 100


def f_number_from_stolze(stolze: float) -> float:
    """Return the f-number of a Stolze or Paris Congress number: ten times its square root.

    Source: as `stolze_from_f_number`.
    """
    return 10 * math.sqrt(above_zero("stolze", stolze))


def stops_between(f_from: float, f_to: float) -> float:
    """Return how many stops less light ``f_to`` passes than ``f_from`` (negative: more light) [stops].

    Valid from f/0.5 to f/1024. Source: the area of the opening goes with the square of its diameter.
    """
    return 2 * math.log2(_in_range(f_to, "f-number") / _in_range(f_from, "f-number"))


def f_numbers(f_from: float, f_to: float, *, to_the_stop: int = 1) -> tuple[float, ...]:
    """Return the exact f-numbers of the scale from ``f_from`` to ``f_to``, in whole or half stops.

    Refuses a scale that runs backwards. Source: powers of the square root of two.
    """
    if to_the_stop not in {1, 2}:
        raise Refused(f"{to_the_stop} marks to the stop", where="stops", allowed="1 or 2")
    first = math.ceil(_marks(f_from, to_the_stop) - 1e-6)
    last = math.floor(_marks(f_to, to_the_stop) + 1e-6)
    if last < first:
        raise Refused(
            f"no mark between {name_of_stop(f_from)} and {name_of_stop(f_to)}",
            where="stops",
            allowed="a wider opening first",
        )
    return tuple(2 ** (mark / to_the_stop / 2) for mark in range(first, last + 1))


def name_of_stop(f_number: float) -> str:
    """Return the name a stop is engraved with: "f/11" for 11.31, "f/9.5" for 9.51, otherwise two figures.

    Source: the usual engravings of whole and half stops, common practice, no source.
    """
    halves = 2 * _marks(f_number, 1)
    near = round(halves)
    if abs(halves - near) > 0.02:
        return f"f/{f_number:.1f}".removesuffix(".0") if f_number < 100 else f"f/{f_number:.0f}"
    names, place = (_FULL, near // 2 + 2) if near % 2 == 0 else (_HALVES, near // 2)
    return f"f/{names[place]}" if 0 <= place < len(names) else f"f/{f_number:.0f}"


def _meant(engraved: str) -> float:
    plain = f"{float(engraved):g}"
    return 2 ** (ENGRAVED[plain] / 2) if plain in ENGRAVED else float(engraved)


def _marks(f_number: float, to_the_stop: int) -> float:
    return 2 * to_the_stop * math.log2(_in_range(f_number, "f-number"))


def _in_range(f_number: float, where: str) -> float:
    if not SMALLEST <= f_number <= LARGEST:
        raise Refused(f"f/{f_number:.4g} is out of range", where=where, allowed=_RANGE)
    return f_number
