"""What a number or a moment in an event may be at all, whoever wrote it: an act, an import, another book.

The bounds are far wider than those of the acts: they hold out what no bench can have measured and no later
page could show, and must never refuse what a journal already keeps. Units as in `docs/glossary.md`.
"""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

from msgspec import Meta

from firmware_py.craft.refusal import Refused, shown

# Above nothing, and so far that no product of a few of them is nothing again.
LEAST = 1e-100
FIRST_YEAR, LAST_YEAR = 1800, 2999

# Degrees Celsius of a liquid or of the air about it; kelvins of a tolerance, and of a difference.
Degrees = Annotated[float, Meta(ge=-100.0, le=300.0)]
Tolerance = Annotated[float, Meta(ge=0.0, le=1000.0)]
Difference = Annotated[float, Meta(ge=-1000.0, le=1000.0)]

# Seconds: up to three centuries. Of a boot clock, and of light that a sensor measured, either sign.
Seconds = Annotated[float, Meta(ge=0.0, le=1e10)]
SomeSeconds = Annotated[float, Meta(ge=LEAST, le=1e10)]
SignedSeconds = Annotated[float, Meta(ge=-1e10, le=1e10)]

Volume = Annotated[float, Meta(ge=LEAST, le=1e9)]  # millilitres
Area = Annotated[float, Meta(ge=0.0, le=1e9)]  # square centimetres
SomeArea = Annotated[float, Meta(ge=LEAST, le=1e9)]  # square centimetres, in all or to a litre
Percent = Annotated[float, Meta(ge=0.0, le=1000.0)]
Times = Annotated[float, Meta(ge=LEAST, le=1e6)]
Index = Annotated[float, Meta(ge=LEAST, le=1e9)]  # of speed: of a plate, of a paper
Stops = Annotated[float, Meta(ge=-100.0, le=100.0)]
Density = Annotated[float, Meta(ge=-100.0, le=100.0)]  # log10: densities, their ranges and slopes
Millimetres = Annotated[float, Meta(ge=LEAST, le=1e6)]
Hertz = Annotated[float, Meta(ge=LEAST, le=1e6)]
FNumber = Annotated[float, Meta(ge=LEAST, le=1e6)]
Latitude = Annotated[float, Meta(ge=-90.0, le=90.0)]
Longitude = Annotated[float, Meta(ge=-180.0, le=180.0)]
Light = Annotated[float, Meta(ge=0.0, le=1000.0)]  # 1 is full light

Place = Annotated[float, Meta(ge=0.0, le=1e6)]  # on a strip: 3.5 is half-way from patch 3 to 4
Count = Annotated[int, Meta(ge=0, le=1_000_000)]


def require_moment(text: str, name: str) -> None:
    """Refuse a text that is no ISO 8601 moment with its offset from UTC, within the years 1800 to 2999."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None or not FIRST_YEAR <= moment.year <= LAST_YEAR:
        allowed = f"2026-03-14T19:30+00:00, in the years {FIRST_YEAR} to {LAST_YEAR}"
        raise Refused(f"{shown(text)} is no moment", where=name, allowed=allowed)


def require_moment_or_none(text: str, name: str) -> None:
    """Refuse a text that is neither empty nor a moment as `require_moment` wants it."""
    if text:
        require_moment(text, name)
