"""Reading the quantities that a person writes: text in, plain floats out, each with one refusal.

The text is taken apart here by strict patterns; no part of it is ever evaluated.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_mass, say_temperature, say_time, say_volume
from firmware_py.craft.unit_words import Kind, TooMany, Unit, unit_written

__all__ = [
    "kind_of",
    "read_area_cm2",
    "read_difference_K",
    "read_length_mm",
    "read_mass_g",
    "read_number",
    "read_temperature_degC",
    "read_time_s",
    "read_volume_ml",
    "say_mass",
    "say_temperature",
    "say_time",
    "say_volume",
]

LONGEST_TEXT = 80
# More than any darkroom holds; it catches a slip of the unit.
LARGEST: Mapping[Kind, float] = MappingProxyType(
    {"time": 1e10, "mass": 1e6, "volume": 1e7, "length": 1e7, "area": 1e8}
)

_WANTED: Mapping[str, str] = MappingProxyType(
    {
        "time": 'a time with its unit, such as "7 min 30 s" or "7:30"',
        "mass": 'a mass with its unit, such as "6 g" or "30 gr"',
        "volume": 'a volume with its unit, such as "500 ml" or "20 imperial fl oz"',
        "length": 'a length with its unit, such as "165 mm" or "6 1/2 in"',
        "area": 'an area with its unit, such as "200 cm2" or "4 3/4 x 6 1/2 in"',
        "temperature": 'a temperature with its scale, such as "20 degC", "68 degF" or "293 K"',
        "difference": 'a difference of temperature in kelvin, such as "0.5 K"',
        "number": 'a number, such as "2.5", "2 1/2" or "1/3"',
        "quantity": 'a number and its unit, such as "6 g", "30 gr" or "500 ml"',
    }
)

# scale -> the size of its degree [K], the degC of its zero, and the ways it is written
_SCALES: tuple[tuple[float, float, str], ...] = (
    (1.0, 0.0, "degC °C C celsius centigrade"),
    (5 / 9, -160 / 9, "degF °F F fahrenheit"),
    (1.0, -273.15, "K kelvin kelvins"),
    (1.25, 0.0, "degRe °Re réaumur reaumur"),
)
_SCALE_WRITTEN = {way: (size, zero) for size, zero, ways in _SCALES for way in ways.split()}
_SPELT = {
    "degCelsius": "degC",
    "degcelsius": "degC",
    "Celsius": "celsius",
    "degc": "degC",
    "degFahrenheit": "degF",
    "degfahrenheit": "degF",
    "Fahrenheit": "fahrenheit",
    "degf": "degF",
    "degK": "K",
    "Kelvin": "K",
    "Réaumur": "réaumur",
    "Reaumur": "reaumur",
    "Centigrade": "centigrade",
}
_DIFFERENCES = {"K": 1.0, "kelvin": 1.0, "kelvins": 1.0, "delta_degC": 1.0, "delta_degF": 5 / 9}

_PLAIN = r"(?:[0-9]{1,15}(?:\.[0-9]{0,25})?|\.[0-9]{1,25})(?:[eE][+-]?[0-9]{1,2}(?![0-9]))?"
_FRACTION = r"(?:[0-9]{1,9}\s+)?[0-9]{1,6}\s*/\s*[0-9]{1,6}"
_NUMBER = f"(?:{_FRACTION}|{_PLAIN})"
_UNIT = r"(?:(?:mm|cm|dm|m|in|ft)\^?[23](?![0-9.])|[^\W\d_](?:[^\W\d_]|[ .'’])*)"
_PART = re.compile(rf"\s*({_NUMBER})\s*({_UNIT})\s*,?\s*")
_SIGNED = re.compile(rf"\s*([+-]?)\s*({_NUMBER})\s*(.*?)\s*")
_CLOCK = re.compile(r"\s*(?:([0-9]{1,4}):)?([0-9]{1,4}):([0-5][0-9](?:\.[0-9]{1,9})?)\s*")
_SIDES = re.compile(rf"\s*({_NUMBER})\s*({_UNIT})??\s*[x×]\s*({_NUMBER})\s*({_UNIT})\s*")
_VULGAR = {
    "½": "1/2",
    "⅓": "1/3",
    "⅔": "2/3",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}


def read_time_s(text: str, *, where: str) -> float:
    """Read a time [s]: "90 s", "7 min 30 s", "1h 5min", "7:30" (min:s) or "1:05:00" (h:min:s).

    Refuses a bare number, a negative time, another kind of quantity. Source: own.
    """
    clock = _CLOCK.fullmatch(_tidy(text, "time", where))
    if clock is None:
        return _read("time", text, where)
    hours, minutes, seconds = clock.groups(default="0")
    if clock.group(1) is not None and float(minutes) > 59:
        raise _refusal(text, "has more than 59 minutes after its hours", "time", where)
    return 3600 * float(hours) + 60 * float(minutes) + float(seconds)


def read_mass_g(text: str, *, where: str) -> float:
    """Read a mass [g]: "6 g", "30 gr" (grains), "2 1/2 oz avoirdupois", "1 drachm 20 grains".

    Refuses a bare "oz", which may be two weights or two volumes. Source: own.
    """
    return _read("mass", text, where)


def read_volume_ml(text: str, *, where: str) -> float:
    """Read a volume [ml]: "500 ml", "1 imperial pint", "20 fl oz imperial", "8 US fl oz".

    Refuses ounces, pints, minims and fluid drachms of no stated system. Source: own.
    """
    return _read("volume", text, where)


def read_length_mm(text: str, *, where: str) -> float:
    """Read a length [mm]: "165 mm", "6 1/2 in". Refuses a negative one. Source: own."""
    return _read("length", text, where)


def read_area_cm2(text: str, *, where: str) -> float:
    """Read an area [cm²]: "200 cm2", "30 sq in", or the two sides "4 3/4 x 6 1/2 in". Source: own."""
    sides = _SIDES.fullmatch(_tidy(text, "area", where))
    if sides is None:
        return _read("area", text, where)
    first, unit, second, last_unit = sides.groups()
    width_mm = _read("length", f"{first} {unit or last_unit}", where)
    return width_mm * _read("length", f"{second} {last_unit}", where) / 100


def read_temperature_degC(text: str, *, where: str) -> float:
    """Read a temperature [degC]: "20 degC", "68 °F", "295 K", "16 °Re".

    Refuses a bare number, a difference of temperature, anything below absolute zero.
    Source: definitions of the scales (ITS-90 intervals; Réaumur 80 degrees from ice to steam).
    """
    number, scale = _number_and_scale(text, "temperature", where)
    if scale in _DIFFERENCES and scale not in _SCALE_WRITTEN:
        raise _refusal(text, "is a difference of temperature", "temperature", where)
    if scale not in _SCALE_WRITTEN:
        raise _refusal(text, f"has the scale {_shown(scale)}, which is not known", "temperature", where)
    size, zero = _SCALE_WRITTEN[scale]
    bath_degC = number * size + zero
    if not -273.15 <= bath_degC < 1e4:
        raise _refusal(text, "is no temperature a bath can have", "temperature", where)
    return round(bath_degC, 10)


def read_difference_K(text: str, *, where: str) -> float:
    """Read a difference of temperature [K]: "0.5 K", "-2 K", "1 delta_degF".

    Refuses "0.5 degC", which is a temperature. Source: own.
    """
    number, scale = _number_and_scale(text, "difference", where)
    if scale not in _DIFFERENCES:
        of = "a temperature, not a difference" if scale in _SCALE_WRITTEN else f"in {_shown(scale)}"
        raise _refusal(text, f"is {of}", "difference", where)
    if abs(number) > 1e4:
        raise _refusal(text, "is too large", "difference", where)
    return number * _DIFFERENCES[scale]


def read_number(text: str, *, where: str, low: float = -1e15, high: float = 1e15) -> float:
    """Read a plain number, also "2 1/2", "1/3", "2½"; refuse one outside ``low`` to ``high``. Source: own."""
    found = _SIGNED.fullmatch(_tidy(text, "number", where))
    if found is None or found.group(3):
        raise _refusal(text, "is not a number", "number", where)
    value = _value(found.group(2), text, where)
    value = -value if found.group(1) == "-" else value
    if not low <= value <= high:
        raise Refused(f"{_shown(text)} is out of range", where=where, allowed=f"{low:.6g} to {high:.6g}")
    return value


def kind_of(text: str, *, where: str) -> Kind:
    """Return what kind of quantity ``text`` is: time, mass, volume, length or area. Source: own."""
    kinds = [unit.kind for _, unit in _parts(_tidy(text, "quantity", where), "quantity", where)]
    return kinds[0]


def _read(kind: Kind, text: str, where: str) -> float:
    total, last_size = 0.0, math.inf
    for number, unit in _parts(_tidy(text, kind, where), kind, where):
        if unit.kind != kind:
            hint = ' ("m" is the metre, "min" the minute)' if kind == "time" and unit.kind == "length" else ""
            raise _refusal(text, f"is {_named(unit.kind)}{hint}", kind, where)
        if unit.size >= last_size:
            raise _refusal(text, "must name its units from the largest down, each once", kind, where)
        total, last_size = total + number * unit.size, unit.size
    if not total <= LARGEST[kind]:
        raise _refusal(text, "is larger than any this bench can mean", kind, where)
    return total


def _parts(tidy: str, kind: str, where: str) -> Iterator[tuple[float, Unit]]:
    """Yield each number and unit of "7 min 30 s"."""
    place = 0
    while place == 0 or place < len(tidy):
        part = _PART.match(tidy, place)
        if part is None:
            raise _unreadable(tidy, kind, where)
        yield _value(part.group(1), tidy, where), _unit(part.group(2), tidy, kind, where)
        place = part.end()


def _unit(word: str, tidy: str, kind: str, where: str) -> Unit:
    found = unit_written(word)
    if isinstance(found, TooMany):
        raise Refused(
            f"{_shown(tidy)}: {_shown(word)} may be several units", where=where, allowed=found.choices
        )
    if found is None:
        raise _refusal(tidy, f"has the unit {_shown(word)}, which is not known", kind, where)
    return found


def _number_and_scale(text: str, kind: str, where: str) -> tuple[float, str]:
    found = _SIGNED.fullmatch(_tidy(text, kind, where))
    if found is None:
        raise _unreadable(text, kind, where)
    sign, number, words = found.groups()
    if not words:
        raise _unreadable(text, kind, where)
    scale = re.sub("^[Dd]eg(?:ree)?s?[ _]?", "deg", words).replace("° ", "°")
    value = _value(number, text, where)
    return (-value if sign == "-" else value), _SPELT.get(scale, scale)


def _value(number: str, text: str, where: str) -> float:
    whole, _, fraction = number.rpartition(" ") if "/" in number else (number, "", "")
    if not fraction and "/" in number:
        whole, fraction = "", number
    if not fraction:
        return float(whole)
    over, under = fraction.split("/")
    if float(under) == 0:
        raise _refusal(text, "divides by zero", "number", where)
    return float(whole or 0) + float(over) / float(under)


def _tidy(text: str, kind: str, where: str) -> str:
    """Return ``text`` with one form for each sign: fractions, minus, primes, full-width letters."""
    if len(text) > LONGEST_TEXT:
        raise _refusal(text, f"is longer than {LONGEST_TEXT} characters", kind, where)
    for sign, plain in _VULGAR.items():
        text = text.replace(sign, f" {plain} ")
    return re.sub(r"\s*/\s*", "/", unicodedata.normalize("NFKC", text).replace("−", "-"))


def _unreadable(text: str, kind: str, where: str) -> Refused:
    found = _SIGNED.fullmatch(text)
    if found is not None and not found.group(3):
        return _refusal(text, "has no unit", kind, where)
    if found is not None and found.group(1) == "-":
        return _refusal(text, "must not be negative", kind, where)
    return _refusal(text, f"is not {_named(kind)}", kind, where)


def _refusal(text: str, problem: str, kind: str, where: str) -> Refused:
    return Refused(f"{_shown(text)} {problem}", where=where, allowed=_WANTED[kind])


def _shown(text: str) -> str:
    """Return what was given as one short printable piece; nothing in it can reach a terminal's controls."""
    plain = "".join(sign if sign.isprintable() else "?" for sign in text.strip())
    return f'"{plain}"' if len(plain) <= 40 else f'"{plain[:37]}..."'


def _named(kind: str) -> str:
    return {"area": "an area"}.get(kind, f"a {kind}")
