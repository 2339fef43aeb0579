"""Reading where on the Earth the camera stands."""

from __future__ import annotations

import re
from dataclasses import dataclass

from firmware_py.craft.limits import within
from firmware_py.craft.refusal import Refused, shown

__all__ = ["Place", "read_place"]

_WANTED = '"56.05,-2.72", "56.05N 2.72W", "56°03\'N 2°43\'W" or ISO 6709 "+5603-00243/"'
_DECIMAL = r"([+-]?)([0-9]{1,3}(?:\.[0-9]{0,9})?)\s*°?\s*"
_PLAIN = re.compile(rf"{_DECIMAL}([NSns]?)\s*[,;\s]\s*{_DECIMAL}([EWew]?)")
_SIXTIETHS = r"([0-9]{1,3})°\s*([0-9]{1,2}(?:\.[0-9]{0,9})?)['′]\s*(?:([0-9]{1,2}(?:\.[0-9]{0,9})?)[\"″]\s*)?"
_WRITTEN_OUT = re.compile(rf"{_SIXTIETHS}([NSns])[,;\s]*{_SIXTIETHS}([EWew])")
_ISO = re.compile(
    r"([+-])([0-9]{2}|[0-9]{4}|[0-9]{6})(\.[0-9]{1,9})?([+-])([0-9]{3}|[0-9]{5}|[0-9]{7})(\.[0-9]{1,9})?"
    r"(?:([+-][0-9]{1,5}(?:\.[0-9]{1,3})?)(?:CRS[\w:-]{1,30})?)?/?"
)


@dataclass(frozen=True, slots=True)
class Place:
    """A place: latitude north, longitude east [deg], and its height [m] where it was given."""

    latitude_deg: float
    longitude_deg: float
    height_m: float | None = None

    def __post_init__(self) -> None:
        within("latitude", self.latitude_deg, -90, 90)
        within("longitude", self.longitude_deg, -180, 180)


def read_place(text: str, *, where: str) -> Place:
    """Read a position in decimal degrees, in degrees and minutes with letters, or by ISO 6709.

    "56.05,-2.72" (latitude first, north and east positive), "56.05N 2.72W", "56°03'N 2°43'W",
    "+56.05-002.72/", "+5603-00243+0120/" (with the height in metres). Refuses a sign and a letter together,
    minutes of 60, and what is off the globe. Source: ISO 6709 (its forms from memory).
    """
    tidy = text.strip()
    try:
        return _read(tidy)
    except Refused as refused:
        raise refused.at(where) from None


def _read(tidy: str) -> Place:
    if found := _PLAIN.fullmatch(tidy):
        sign, north, north_letter, east_sign, east, east_letter = found.groups()
        return Place(_signed(sign, float(north), north_letter), _signed(east_sign, float(east), east_letter))
    if found := _WRITTEN_OUT.fullmatch(tidy):
        *north_parts, north_letter = found.groups()[:4]
        *east_parts, east_letter = found.groups()[4:]
        return Place(
            _signed("", _degrees(north_parts), north_letter), _signed("", _degrees(east_parts), east_letter)
        )
    if found := _ISO.fullmatch(tidy):
        sign, north, north_rest, east_sign, east, east_rest, height = found.groups()
        latitude_deg = _signed(sign, _packed(north, north_rest, 2))
        longitude_deg = _signed(east_sign, _packed(east, east_rest, 3))
        return Place(latitude_deg, longitude_deg, float(height) if height else None)
    raise Refused(f"{shown(tidy)} is not a position", allowed=_WANTED)


def _signed(sign: str, degrees: float, letter: str = "") -> float:
    if sign and letter:
        raise Refused(f'a sign and the letter "{letter}" together', allowed=_WANTED)
    return -degrees if sign == "-" or letter.upper() in {"S", "W"} else degrees


def _packed(digits: str, rest: str | None, for_degrees: int) -> float:
    """Return degrees from DD, DDMM or DDMMSS (three digits of degrees for a longitude) and a decimal part."""
    parts = [digits[:for_degrees]]
    parts += [digits[place : place + 2] for place in range(for_degrees, len(digits), 2)]
    parts[-1] += rest or ""
    return _degrees(parts)


def _degrees(parts: list[str | None] | list[str]) -> float:
    degrees, minutes, seconds = (float(part or 0) for part in (*parts, None, None)[:3])
    if minutes >= 60 or seconds >= 60:
        raise Refused("minutes or seconds of 60 and more", allowed=_WANTED)
    return degrees + minutes / 60 + seconds / 3600
