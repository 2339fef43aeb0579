"""Reading when the exposure is to be made, by the clock of a zone or by the sun itself."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, timezone, tzinfo
from typing import Literal

from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.sun import equation_of_time_min, within_years

__all__ = ["Dial", "SolarTime", "read_day", "read_dial", "read_moment"]

SolarTime = Literal["apparent", "mean"]
_WANTED = '"2026-06-21T12:00+01:00" (ISO 8601 with its offset), or without offset and solar time stated'
_OFFSET = re.compile(r"([+-])([01][0-9]|2[0-3]):?([0-5][0-9])?")


@dataclass(frozen=True, slots=True)
class Dial:
    """What hours are counted by: a zone's offset from UTC, or the sun (mean or apparent) at a longitude.

    Source: longitude turns at 15 degrees an hour; apparent time is mean time and the equation of time.
    """

    zone: tzinfo | None = None
    solar: SolarTime | None = None
    longitude_deg: float = 0.0

    def utc(self, hour: datetime) -> datetime:
        """Return in UTC when this dial shows ``hour``, itself without offset. Source: as the class."""
        if self.solar is None:
            return hour.replace(tzinfo=self.zone or UTC).astimezone(UTC)
        mean = (hour - timedelta(hours=self.longitude_deg / 15)).replace(tzinfo=UTC)
        if self.solar == "mean":
            return mean
        # The equation of time changes by 30 s a day at most: one step back is exact to a second.
        return mean - timedelta(minutes=equation_of_time_min(mean))

    def shows(self, when: datetime) -> datetime:
        """Return what this dial shows at an instant, without an offset. Source: as the class."""
        if self.solar is None:
            return when.astimezone(self.zone or UTC).replace(tzinfo=None)
        mean = when.astimezone(UTC) + timedelta(hours=self.longitude_deg / 15)
        ahead_min = equation_of_time_min(when) if self.solar == "apparent" else 0.0
        return (mean + timedelta(minutes=ahead_min)).replace(tzinfo=None)

    @property
    def name(self) -> str:
        """Get what the hours are counted by, for a person."""
        if self.solar:
            return f"local {self.solar} solar time"
        return f"UTC{datetime(2000, 1, 1, tzinfo=self.zone or UTC).strftime('%z')}".removesuffix("+0000")


def read_moment(
    text: str, *, where: str, solar: SolarTime | None = None, longitude_deg: float = 0.0
) -> datetime:
    """Read an hour of a date by ISO 8601 and return it in UTC.

    With its offset ("2026-06-21T12:00+01:00", "…Z"), or without one and ``solar`` saying that the hours are
    local apparent or mean solar time at ``longitude_deg`` [deg]. Refuses a date alone, an hour without
    offset and an offset together with ``solar``. Source: ISO 8601.
    """
    if _is_date(text.strip()):
        raise Refused(f"{shown(text)} has no hour", where=where, allowed=_WANTED)
    hour = _parsed(text, where)
    return read_dial(hour, where=where, solar=solar, longitude_deg=longitude_deg).utc(
        hour.replace(tzinfo=None)
    )


def read_day(
    text: str, *, where: str, solar: SolarTime | None = None, longitude_deg: float = 0.0, offset: str = ""
) -> tuple[date, Dial]:
    """Read a date, with or without an hour, and what its hours are counted by.

    The offset comes from the hour, from ``offset`` ("+01:00", "Z"), or ``solar`` says that the sun is the
    clock. Refuses a day whose hours nobody has named. Source: ISO 8601.
    """
    hour = _parsed(text, where)
    if offset:
        hour = hour.replace(tzinfo=_zone(offset, hour, where))
    return hour.date(), read_dial(hour, where=where, solar=solar, longitude_deg=longitude_deg)


def read_dial(hour: datetime, *, where: str, solar: SolarTime | None, longitude_deg: float) -> Dial:
    """Return what hours are counted by; refuse an offset and solar time, and neither. Source: own."""
    if hour.tzinfo is not None and solar:
        raise Refused("an offset and solar time together", where=where, allowed="one of the two")
    if hour.tzinfo is None and not solar:
        raise Refused("no offset from UTC, and no solar time stated", where=where, allowed=_WANTED)
    return Dial(hour.tzinfo, solar, longitude_deg)


def _parsed(text: str, where: str) -> datetime:
    try:
        hour = datetime.fromisoformat(text.strip())
    except ValueError:
        raise Refused(f"{shown(text)} is not a date", where=where, allowed=_WANTED) from None
    within_years(hour.year, where)
    return hour


def _is_date(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _zone(offset: str, hour: datetime, where: str) -> tzinfo:
    if hour.tzinfo is not None:
        raise Refused("two offsets", where=where, allowed="one, with the hour or by itself")
    if offset.strip().upper() == "Z":
        return UTC
    if (found := _OFFSET.fullmatch(offset.strip())) is None:
        raise Refused(f"{shown(offset)} is not an offset", where=where, allowed='"+01:00", "-05:00" or "Z"')
    sign, hours, minutes = found.groups(default="0")
    east = timedelta(hours=int(hours), minutes=int(minutes))
    return timezone(-east if sign == "-" else east)
