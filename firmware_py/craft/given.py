"""What was given beside what daylight calls for, in stops."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from firmware_py.craft.actinic import Emulsion
from firmware_py.craft.daylight import Scene, camera_time_s, doubt_stops, light_stops
from firmware_py.craft.limits import within
from firmware_py.craft.place import Place
from firmware_py.craft.sun import sun_altitude_deg

__all__ = ["Against", "Given", "against_daylight"]


@dataclass(frozen=True, slots=True)
class Given:
    """An exposure as it was made: plate, hour, place, light, and ``time_s`` [s] at ``f_number``.

    ``factor`` [times] is that of all that lengthens it. Source: own.
    """

    emulsion: Emulsion
    index: float
    taken: datetime
    place: Place
    f_number: float
    time_s: float
    factor: float = 1.0
    sky: str = "clear"
    subject: str = "landscape"
    lighting: str = "front"


@dataclass(frozen=True, slots=True)
class Against:
    """What daylight calls for [s], how far that may be off, and how much more was given [stops].

    ``more_stops`` is negative where less was given. Source: as `daylight`.
    """

    reckoned_s: float
    doubt_stops: float
    more_stops: float
    altitude_deg: float


def against_daylight(given: Given) -> Against:
    """Return an exposure beside what daylight calls for. Refuses what `Scene` and `camera_time_s` refuse.

    Without the slackening of long exposures, and without what a book has learnt of the box.
    Source: as `daylight`.
    """
    place = given.place
    altitude_deg = sun_altitude_deg(given.taken, place.latitude_deg, place.longitude_deg)
    scene = Scene(
        given.emulsion, altitude_deg, given.sky, given.subject, given.lighting, place.height_m or 0.0
    )
    reckoned_s = camera_time_s(
        light_stops(scene), index=given.index, f_number=given.f_number, factor=given.factor
    )
    more = math.log2(within("time", given.time_s, 1e-6, 1e7) / reckoned_s)
    return Against(reckoned_s, doubt_stops(scene), more, altitude_deg)
