"""Reckons what the Daylight page shows, as the command line does. Imports much: load late."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from firmware_py.craft.refusal import Refused
from firmware_py.craft.scene import LIGHTINGS, SKIES, SUBJECTS
from tui.commands.reckonings.day_table import day_table
from tui.commands.reckonings.daylight import exposure
from tui.commands.reckonings.outing import read_outing
from tui.pages.daylight.outing_words import OutingWords, arguments, read_hour

# The options of the command line by the words of the page, where they are others.
FIELDS: Mapping[str, str] = MappingProxyType(
    {"--at": "place", "--on": "date and hour", "--magnification": "extension", "--correction": "box"}
)


@dataclass(frozen=True, slots=True)
class Sunlight:
    """An exposure: ``digits`` to be drawn large, ``unit`` they are in, lines of words, the day's table."""

    digits: str = ""
    unit: str = ""
    lines: tuple[str, ...] = ()
    table: tuple[str, ...] = ()
    refused: str = ""


def reckon(words: OutingWords) -> Sunlight:
    """Return what comes of the words; what is wrong with them is said and not raised."""
    if words.missing:
        return Sunlight(refused=words.missing)
    try:
        return _reckoned(words)
    except Refused as refusal:
        return Sunlight(refused=_no(refusal))


def _reckoned(words: OutingWords) -> Sunlight:
    _check(words)
    args = arguments(words)
    outing = read_outing(args)
    hour, args.solar = read_hour(words)
    args.on = hour if args.solar else _with_offset(hour)
    try:
        table = day_table(outing, args).answer.lines
    except Refused as refusal:
        table = (f"No table: {_here(refusal).line}",)
    args.stop = words.stop
    try:
        answer = exposure(outing, args)
    except Refused as refusal:
        # The day may have better hours than the one that was asked for.
        return Sunlight(refused=_no(refusal), table=table)
    return Sunlight(*large(str(answer.values["exposure"])), answer.lines, table)


def _no(refusal: Refused) -> str:
    return f"No: {_here(refusal).line}"


def _here(refusal: Refused) -> Refused:
    """Return what the command line refuses with the field of this page in place of its option."""
    where = FIELDS.get(refusal.where, refusal.where.removeprefix("--"))
    return Refused(refusal.what, where=where, allowed=refusal.allowed)


def _check(words: OutingWords) -> None:
    """Refuse a choice that was remembered and is none any more."""
    for name, value, known in (
        ("sky", words.sky, SKIES),
        ("subject", words.subject, SUBJECTS),
        ("light", words.lighting, LIGHTINGS),
    ):
        if value not in known:
            raise Refused(f"{value!r} is not known", where=name, allowed=", ".join(known))


def _with_offset(hour: str) -> str:
    """Return an hour with the offset of this machine's clock on that day, if it has none of its own."""
    try:
        read = datetime.fromisoformat(hour)
        return read.isoformat() if read.tzinfo else read.astimezone().isoformat()
    except (ValueError, OverflowError):
        raise Refused(f"{hour!r} is no hour of a day", where="hour", allowed="11:30") from None


def large(said: str) -> tuple[str, str]:
    """Return an exposure in words as digits that can be drawn large, and what they are."""
    parts = said.split()
    if len(parts) == 2 and parts[1] == "s":
        return parts[0], "seconds"
    if len(parts) % 2 == 0 and all(part.isdecimal() for part in parts[::2]):
        by = dict(zip(parts[1::2], map(int, parts[::2]), strict=True))
        hours, minutes, seconds = (by.get(unit, 0) for unit in ("h", "min", "s"))
        if hours:
            return f"{hours}:{minutes:02d}:{seconds:02d}", "hours, minutes, seconds"
        return f"{minutes}:{seconds:02d}", "minutes and seconds"
    return "", said
