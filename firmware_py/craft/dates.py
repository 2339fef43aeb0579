"""Reading dates and hours as people say them: "tomorrow", "29 Nov", "4pm"; two readings are asked about.

The library dateparser reads the dates. It loads late, and only for what is not ISO 8601: half a second, more
on a small board. So the controller, which may not wait, never reads by this; screens and commands do, and
`load` makes it ready on a thread.
"""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import UTC, date, datetime, time

from firmware_py.craft.refusal import WrongInput, shown
from firmware_py.craft.sun import within_years

__all__ = ["Ambiguous", "load", "read_date", "read_hour", "read_when"]

DATES = '"2026-06-21", "tomorrow", "21 June" or "2 days ago"'
HOURS = '"14:10", "2 pm" or "noon"'
_WORDS = {"noon": time(12), "midnight": time()}
_HALF = r"[ap]\.?m\.?"
_HOUR = re.compile(rf"(?:at\s+)?(\d{{1,2}})(?:[:.h]([0-5]\d))?\s*({_HALF})?", re.IGNORECASE)
# An hour at the end of a date: with minutes, its half of the day, or a word. A bare number there is a year.
_AT_END = re.compile(
    rf"(?:^|[\s,]+)(?:at\s+)?(\d{{1,2}}(?:[:.h][0-5]\d)?\s*{_HALF}|\d{{1,2}}[:h][0-5]\d|noon|midnight)$",
    re.IGNORECASE,
)
LONGEST = 60


class Ambiguous(WrongInput):
    """Something that can be read two ways; the line names both. Source: own."""


def read_date(text: str, *, now: datetime | None, where: str) -> date:
    """Read a date as ISO 8601, or as people say it, counted from ``now``.

    Raises `Ambiguous` for what is one day with the day first and another with the month first, and `Refused`
    for what is no date of 1800 to 2100, or only one beside a ``now`` that is None. Source: ISO 8601; own.
    """
    tidy = " ".join(text.split())
    try:
        found = date.fromisoformat(tidy)
    except ValueError:
        found = _people_said(tidy, now, where)
    within_years(found.year, where)
    return found


def read_hour(text: str, *, where: str) -> time:
    """Read an hour of the day: "14:10", "2.10 pm", "14", "noon".

    Raises `Ambiguous` for a bare 1 to 11, which is in the morning or after noon. Source: own.
    """
    tidy = " ".join(text.split()).lower()
    if tidy in _WORDS:
        return _WORDS[tidy]
    found = _HOUR.fullmatch(tidy)
    if found is None:
        raise WrongInput(f"{shown(text)} is no hour", where=where, allowed=HOURS)
    hour, minute, half = int(found[1]), int(found[2] or 0), (found[3] or "")[:1]
    if (half and not 1 <= hour <= 12) or hour > 23:
        raise WrongInput(f"{shown(text)} is no hour", where=where, allowed=HOURS)
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    elif found[2] is None and 1 <= hour <= 11:
        both = f"{hour}:00 or {hour + 12}:00"
        raise Ambiguous(f"{shown(text)} can be {both}", where=where, allowed=f'"{hour} am" or "{hour} pm"')
    return time(hour, minute)


def read_when(text: str, *, now: datetime, where: str) -> datetime:
    """Read a date, an hour, or both: by ISO 8601, or as people say it, counted from ``now``.

    An hour alone is today's; a date alone is its midnight. What has no offset of its own has that of ``now``.
    Raises as `read_date` and `read_hour`. Source: ISO 8601; own.
    """
    tidy = " ".join(text.split())
    try:
        moment = datetime.fromisoformat(tidy)
    except ValueError:
        moment = datetime.combine(*_day_and_hour(tidy, now, where))
    within_years(moment.year, where)
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=now.tzinfo)


def load() -> None:
    """Load what reads dates, so that the first date of a person is not waited for. Source: own."""
    with suppress(ModuleNotFoundError):  # where it is not installed, the first date says so
        _parsed("1 June", datetime(2000, 1, 1, tzinfo=UTC), "DMY")


def _day_and_hour(tidy: str, now: datetime, where: str) -> tuple[date, time]:
    at_end = _AT_END.search(tidy)
    if at_end is None:
        return read_date(tidy, now=now, where=where), time()
    said = tidy[: at_end.start()].strip(" ,")
    day = read_date(said, now=now, where=where) if said else now.date()
    return day, read_hour(at_end[1], where=where)


def _people_said(tidy: str, now: datetime | None, where: str) -> date:
    if now is None or not tidy or len(tidy) > LONGEST:
        raise WrongInput(f"{shown(tidy)} is no date", where=where, allowed=DATES)
    day_first, month_first = (_parsed(tidy, now, order) for order in ("DMY", "MDY"))
    found = day_first or month_first
    if found is None:
        raise WrongInput(f"{shown(tidy)} is no date", where=where, allowed=DATES)
    if day_first and month_first and day_first != month_first:
        both = f"{_said(day_first)} or {_said(month_first)}"
        raise Ambiguous(f"{shown(tidy)} can be {both}", where=where, allowed=f"{day_first} or {month_first}")
    return found


def _parsed(tidy: str, now: datetime, order: str) -> date | None:
    """Return the date that the library reads in that order of day and month, if it reads both."""
    import dateparser

    found = dateparser.parse(
        tidy,
        languages=["en"],
        settings={
            "RELATIVE_BASE": now.replace(tzinfo=None),
            "DATE_ORDER": order,
            "REQUIRE_PARTS": ["day", "month"],
            "RETURN_AS_TIMEZONE_AWARE": False,
            # The moment is given: the machine's own zone, which the library may not know, has no say.
            "TIMEZONE": "UTC",
        },
    )
    return None if found is None else found.date()


def _said(day: date) -> str:
    return f"{day.day} {day:%B %Y}"
