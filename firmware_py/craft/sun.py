"""Where the sun stands."""

from __future__ import annotations

from datetime import UTC, datetime

from firmware_py.craft.limits import within
from firmware_py.craft.refusal import Refused

__all__ = ["equation_of_time_min", "sun_altitude_deg", "within_years"]

FIRST_YEAR, LAST_YEAR = 1800, 2100


def sun_altitude_deg(when: datetime, latitude_deg: float, longitude_deg: float) -> float:
    """Return the apparent altitude [deg] of the sun's middle, lifted by refraction.

    Negative below the horizon. Valid for the years 1800 to 2100 and latitudes to 90 degrees (nearer to a pole
    than 0.2 degrees it takes 89.8); ``when`` must know its offset. Refuses anything else.
    Source: NOAA's solar equations after Meeus, in the library astral; 0.003 degrees from the worked example
    of Reda & Andreas (NREL/TP-560-34302). NOAA calls them very good for 1800 to 2100.
    """
    from astral import Observer
    from astral.sun import elevation

    within("latitude", latitude_deg, -90, 90)
    within("longitude", longitude_deg, -180, 180)
    return float(elevation(Observer(latitude_deg, longitude_deg), _in_years(when)))


def equation_of_time_min(when: datetime) -> float:
    """Return the equation of time [min]: how far a sundial is ahead of mean time.

    Valid as `sun_altitude_deg`. Source: as `sun_altitude_deg`.
    """
    from astral.julian import julianday, julianday_to_juliancentury
    from astral.sun import eq_of_time

    return float(eq_of_time(julianday_to_juliancentury(julianday(_in_years(when)))))


def _in_years(when: datetime) -> datetime:
    if when.tzinfo is None:
        raise Refused("an hour without its offset", where="date", allowed="an offset from UTC")
    within_years(when.year, "date")
    return when.astimezone(UTC)


def within_years(year: int, where: str) -> None:
    """Refuse, at ``where``, a year for which the sun's place is not known well enough.

    Valid from 1800 to 2100. Source: as `sun_altitude_deg`.
    """
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise Refused(f"the year {year}", where=where, allowed=f"{FIRST_YEAR} to {LAST_YEAR}")
