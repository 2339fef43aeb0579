"""Reading what a photographer wrote down of an exposure: when, light, time, extension, filters."""

from __future__ import annotations

import re
from datetime import date, datetime, time

from firmware_py.craft.camera import extension_factor_of_bellows
from firmware_py.craft.dates import Ambiguous, read_hour
from firmware_py.craft.limits import within
from firmware_py.craft.moment import read_day, read_moment
from firmware_py.craft.place import Place, read_place
from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.scene import LIGHTINGS, SKIES
from firmware_py.craft.units import read_length_mm, read_number, read_time_s

__all__ = [
    "find_place",
    "read_extension_factor",
    "read_filter_factor",
    "read_given_s",
    "read_light",
    "read_taken",
]

_FACTOR = re.compile(r"[x×]?\s*([0-9]{1,5}(?:\.[0-9]{1,4})?)\s*[x×]?")
_DRAW = re.compile(r"([^/]{1,20})/([^/]{1,20})")
_FILTER = re.compile(r"(?:.*[^0-9.])?([0-9]{1,4}(?:\.[0-9]{1,3})?)\s*[x×]?")
_NONE = frozenset({"", "-", "no", "none", "0"})


def read_taken(text: str, *, where: str, day: str = "", offset: str = "") -> str:
    """Read when an exposure was made; return the local hour with its offset (ISO 8601), "" for nothing.

    A whole moment ("2026-06-21T14:10+02:00"), one without its offset where ``offset`` gives it, or an hour
    alone ("14:10", "4 pm") of the date ``day``. Source: ISO 8601; own.
    """
    tidy = text.strip()
    if not tidy:
        return ""
    hour = _hour(tidy, where)
    if hour is not None:
        if not day:
            allowed = '"2026-06-21T14:10+02:00", or the day of the table said beside it'
            raise Refused(f"{shown(tidy)} is no day", where=where, allowed=allowed)
        tidy = f"{_date(day, where)}T{hour:%H:%M}"
    return _with_offset(tidy, where, offset).isoformat(timespec="minutes")


def _hour(tidy: str, where: str) -> time | None:
    try:
        return read_hour(tidy, where=where)
    except Ambiguous:
        raise
    except Refused:
        return None


def _with_offset(text: str, where: str, offset: str) -> datetime:
    try:
        known = datetime.fromisoformat(text).tzinfo is not None
    except ValueError:
        known = True  # it is refused below, in words
    if known or not offset:
        read_moment(text, where=where)
        return datetime.fromisoformat(text)
    _, dial = read_day(text, where=where, offset=offset)
    return datetime.fromisoformat(text).replace(tzinfo=dial.zone)


def _date(day: str, where: str) -> date:
    try:
        return date.fromisoformat(day.strip())
    except ValueError:
        raise Refused(f"{shown(day)} is no date", where=where, allowed='"2026-06-21"') from None


def read_given_s(text: str, *, where: str) -> float:
    """Read the time that was given [s]: a bare number or fraction is seconds; "1 min 20 s", "1:20".

    Refuses none, a negative one, and more than a week. Source: own.
    """
    tidy = text.strip()
    try:
        time_s = read_number(tidy, where=where)
    except Refused:
        time_s = read_time_s(tidy, where=where)
    if not 0 < time_s <= 7 * 86400:
        raise Refused(f"{shown(tidy)} is no exposure", where=where, allowed="more than 0 s, up to 7 days")
    return time_s


def read_extension_factor(text: str, *, where: str) -> float:
    """Read what a long draw of the bellows calls for [times]: a factor "1.6", or draw over focal length.

    "300/210" and "300 mm/210 mm" are (300 / 210) squared; nothing is 1. A factor over 100 is refused: it
    would be a length. Source: as `camera`.
    """
    tidy = text.strip()
    if tidy.casefold() in _NONE:
        return 1.0
    if found := _FACTOR.fullmatch(tidy):
        return within(where, float(found[1]), 1, 100)
    if found := _DRAW.fullmatch(tidy):
        draw_mm, focal_mm = (_mm(part, where) for part in found.groups())
        try:
            return extension_factor_of_bellows(draw_mm, focal_mm)
        except Refused as refused:
            raise refused.at(where) from None
    raise Refused(
        f"{shown(tidy)} is no extension", where=where, allowed='a factor, "1.6", or draw/focus, "300/210"'
    )


def _mm(part: str, where: str) -> float:
    try:
        return read_number(part, where=where, low=0.001, high=1e5)
    except Refused:
        return read_length_mm(part, where=where)


def read_filter_factor(text: str, *, where: str) -> float:
    """Read the factor [times] that stands at the end of a filter's name: "yellow 4", "x4"; nothing is 1.

    Source: own; the factor itself belongs to plate and light, as in `camera.filter_factor`.
    """
    tidy = text.strip()
    if tidy.casefold() in _NONE:
        return 1.0
    found = _FILTER.fullmatch(tidy)
    if found is None:
        raise Refused(
            f"{shown(tidy)} has no factor", where=where, allowed='its name and its factor, "yellow 4"'
        )
    return within(where, float(found[1]), 1, 1000)


def read_light(text: str, *, where: str) -> tuple[str, str]:
    """Read the light as a sky and a lighting of `scene`, in any order: "hazy side", "clear", "".

    Source: own.
    """
    sky = lighting = ""
    for word in text.replace(",", " ").casefold().split():
        if word in SKIES and not sky:
            sky = word
        elif word in LIGHTINGS and not lighting:
            lighting = word
        else:
            allowed = f"a sky ({', '.join(SKIES)}) and a lighting ({', '.join(LIGHTINGS)})"
            raise Refused(f"{shown(word)} in {shown(text)}", where=where, allowed=allowed)
    return sky, lighting


def find_place(text: str) -> Place | None:
    """Return the position that words are, None where they are the name of a place. Source: own."""
    try:
        return read_place(text, where="where")
    except Refused:
        return None
