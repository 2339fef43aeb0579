"""Which words mean which unit in this trade, and which words mean too many.

Only words listed here are units: a person's text never reaches pint, which is asked for the size of a
unit by the name that stands in this table.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from pint import UnitRegistry

Kind = Literal["time", "mass", "volume", "length", "area"]

# pint loads these where it finds them: tens of megabytes and a pool of threads, for single numbers.
_NOT_WANTED = ("numpy", "scipy", "xarray", "dask")

BASE: Mapping[Kind, str] = MappingProxyType(
    {
        "time": "second",
        "mass": "gram",
        "volume": "milliliter",
        "length": "millimeter",
        "area": "centimeter**2",
    }
)

# Sizes a bench meets every day, so that reading its settings needs no registry; a test holds them
# against pint.
EVERYDAY: Mapping[str, float] = MappingProxyType(
    {
        "millisecond": 0.001,
        "second": 1.0,
        "minute": 60.0,
        "hour": 3600.0,
        "day": 86400.0,
        "milligram": 0.001,
        "gram": 1.0,
        "kilogram": 1000.0,
        "milliliter": 1.0,
        "liter": 1000.0,
        "millimeter": 1.0,
        "centimeter": 10.0,
        "meter": 1000.0,
        "centimeter**2": 1.0,
    }
)

# pint's name of a unit -> its kind and the ways it is written
_WRITTEN: Mapping[str, tuple[Kind, str]] = MappingProxyType(
    {
        "millisecond": ("time", "ms, millisecond, milliseconds"),
        "second": ("time", "s, sec, secs, second, seconds"),
        "minute": ("time", "min, mins, minute, minutes"),
        "hour": ("time", "h, hr, hrs, hour, hours"),
        "day": ("time", "d, day, days"),
        "week": ("time", "week, weeks"),
        "month": ("time", "month, months"),
        "year": ("time", "year, years"),
        "milligram": ("mass", "mg, milligram, milligrams, milligramme, milligrammes"),
        "gram": ("mass", "g, gm, gms, gram, grams, gramme, grammes"),
        "kilogram": ("mass", "kg, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes"),
        "grain": ("mass", "gr, grs, grain, grains"),
        "scruple": ("mass", "scruple, scruples"),
        "apothecary_dram": ("mass", "drachm, drachms, apothecary drachm"),
        "dram": ("mass", "avoirdupois drachm"),
        "ounce": ("mass", "avoirdupois ounce"),
        "apothecary_ounce": ("mass", "apothecary ounce"),
        "pound": ("mass", "pound, avoirdupois pound"),
        "apothecary_pound": ("mass", "apothecary pound"),
        "microliter": ("volume", "ul, μl, microlitre, microlitres, microliter, microliters"),
        "milliliter": ("volume", "ml, mL, cc, cm3, millilitre, millilitres, milliliter, milliliters"),
        "centiliter": ("volume", "cl, cL, centilitre, centilitres, centiliter, centiliters"),
        "deciliter": ("volume", "dl, dL, decilitre, decilitres, deciliter, deciliters"),
        "liter": ("volume", "l, L, litre, litres, liter, liters, dm3"),
        "imperial_minim": ("volume", "imperial minim"),
        "imperial_fluid_drachm": ("volume", "imperial fluid drachm"),
        "imperial_fluid_ounce": ("volume", "imperial fluid ounce"),
        "imperial_gill": ("volume", "imperial gill"),
        "imperial_pint": ("volume", "imperial pint"),
        "imperial_quart": ("volume", "imperial quart"),
        "imperial_gallon": ("volume", "imperial gallon"),
        "minim": ("volume", "us minim"),
        "fluid_dram": ("volume", "us fluid drachm"),
        "fluid_ounce": ("volume", "us fluid ounce"),
        "gill": ("volume", "us gill"),
        "pint": ("volume", "us pint"),
        "quart": ("volume", "us quart"),
        "gallon": ("volume", "us gallon"),
        "micrometer": ("length", "um, μm, micron, microns, micrometre, micrometer"),
        "millimeter": ("length", "mm, millimetre, millimetres, millimeter, millimeters"),
        "centimeter": ("length", "cm, centimetre, centimetres, centimeter, centimeters"),
        "meter": ("length", "m, metre, metres, meter, meters"),
        "inch": ("length", "in, inch, inches"),
        "foot": ("length", "ft, foot, feet"),
        "yard": ("length", "yd, yard, yards"),
        "millimeter**2": ("area", "mm2, square mm, square millimetre, square millimeter"),
        "centimeter**2": ("area", "cm2, square cm, square centimetre, square centimeter"),
        "meter**2": ("area", "m2, square m, square metre, square meter"),
        "inch**2": ("area", "in2, square in, square inch"),
        "foot**2": ("area", "ft2, square ft, square foot"),
    }
)

# a word in a unit of several words -> the one form the table above uses
_FORMS: Mapping[str, str] = MappingProxyType(
    {
        form: word
        for word, forms in {
            "ounce": "oz ozs ounce ounces",
            "fluid": "fl fluid liquid",
            "avoirdupois": "av avdp avoir avoirdupois",
            "apothecary": "ap apoth apothecary apothecaries apothecaries' troy",
            "imperial": "imp imperial uk british english",
            "us": "us usa u.s american",
            "drachm": "drachm drachms",
            "dram": "dram drams",
            "minim": "minim minims",
            "gill": "gill gills",
            "pint": "pt pts pint pints",
            "quart": "qt qts quart quarts",
            "gallon": "gal gals gallon gallons",
            "pound": "lb lbs pound pounds",
            "square": "sq square",
            "inch": "inch inches",
            "foot": "foot feet",
            "cm": "centimetres centimeters",
            "mm": "millimetres millimeters",
            "m": "metres meters",
        }.items()
        for form in forms.split()
    }
)

_BOTH_OUNCES = '"oz avoirdupois" (437.5 gr, 28.35 g) or "oz apothecary" (480 gr, 31.10 g)'
_BOTH_FLUID_OUNCES = '"imperial fl oz" (28.41 ml) or "US fl oz" (29.57 ml)'
_ANY_OUNCE = f"{_BOTH_OUNCES}; for a volume {_BOTH_FLUID_OUNCES}"
_BOTH_DRACHMS = '"drachm" (apothecaries\', 60 gr, 3.888 g) or "avoirdupois drachm" (27.34 gr, 1.772 g)'
_BOTH_FLUID_DRACHMS = '"imperial fluid drachm" (3.552 ml) or "US fluid drachm" (3.697 ml)'
_ANY_DRACHM = f"{_BOTH_DRACHMS}; for a volume {_BOTH_FLUID_DRACHMS}"

_TOO_MANY: Mapping[str, str] = MappingProxyType(
    {
        "ounce": _ANY_OUNCE,
        "imperial ounce": _ANY_OUNCE,
        "us ounce": _ANY_OUNCE,
        "fluid ounce": _BOTH_FLUID_OUNCES,
        "dram": _ANY_DRACHM,
        "fluid drachm": _BOTH_FLUID_DRACHMS,
        "fluid dram": _BOTH_FLUID_DRACHMS,
        "minim": '"imperial minim" (0.05919 ml) or "US minim" (0.06161 ml)',
        "gill": '"imperial gill" (142.1 ml) or "US gill" (118.3 ml)',
        "pint": '"imperial pint" (568.3 ml) or "US pint" (473.2 ml)',
        "quart": '"imperial quart" (1137 ml) or "US quart" (946.4 ml)',
        "gallon": '"imperial gallon" (4546 ml) or "US gallon" (3785 ml)',
    }
)


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: its kind, and its size in that kind's base unit (s, g, ml, mm, cm²). Source: pint."""

    kind: Kind
    size: float


@dataclass(frozen=True, slots=True)
class TooMany:
    """A word that means several units; ``choices`` names them for a person. Source: own."""

    choices: str


def unit_written(word: str) -> Unit | TooMany | None:
    """Return the unit that ``word`` means, the choices if it means several, or None if it means none.

    Units of several words may stand in any order ("fl oz imperial"), with or without full stops.
    Source: the names are common practice; the sizes are pint's, checked in tests/reference.
    """
    key = _key(word)
    if key in _too_many():
        return TooMany(_too_many()[key])
    found = _written().get(key)
    if found is None:
        return None
    kind, name = found
    return Unit(kind, unit_size(name, kind))


@lru_cache(maxsize=256)
def unit_size(name: str, kind: Kind) -> float:
    """Return the size of the unit pint calls ``name`` in the base unit of ``kind``.

    Source: pint's registry; everyday units from our own table, which a test holds against it.
    """
    everyday = EVERYDAY.get(name)
    if everyday is not None:
        return everyday
    return float(_registry().Quantity(1, name).to(BASE[kind]).magnitude)


def _key(word: str) -> frozenset[str]:
    plain = (
        word.replace("’", "'")
        .replace("^", "")
        .replace("_", " ")
        .replace("cu cm", "cm3")
        .replace("c.c.", "cc")
    )
    words = [part.strip(".") for part in plain.replace(". ", " ").split()]
    return frozenset(_form(part) for part in words)


def _form(word: str) -> str:
    """Fold the trade's words; a symbol of one or two letters keeps its capitals (mg is not Mg)."""
    folded = _FORMS.get(word.lower())
    if folded is not None:
        return folded
    return word.lower() if len(word) > 2 else word


@lru_cache(maxsize=1)
def _written() -> Mapping[frozenset[str], tuple[Kind, str]]:
    return {_key(way): (kind, name) for name, (kind, ways) in _WRITTEN.items() for way in ways.split(", ")}


@lru_cache(maxsize=1)
def _too_many() -> Mapping[frozenset[str], str]:
    return {_key(way): choices for way, choices in _TOO_MANY.items()}


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[float]:
    with _without(_NOT_WANTED):
        from pint import UnitRegistry

    return UnitRegistry()


@contextmanager
def _without(modules: Iterable[str]) -> Iterator[None]:
    """Have the modules that are not loaded yet taken for missing, while this lasts."""
    held_off = [name for name in modules if name not in sys.modules]
    for name in held_off:
        sys.modules[name] = None  # type: ignore[assignment] # an import of it fails
    try:
        yield
    finally:
        for name in held_off:
            del sys.modules[name]
