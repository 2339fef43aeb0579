"""What daylight would have called for beside the exposures that the book has noted."""

from __future__ import annotations

from datetime import datetime

from firmware_py.craft.actinic import read_emulsion
from firmware_py.craft.given import Against, Given, against_daylight
from firmware_py.craft.place import Place
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.life import ExposureNoted


def beside_daylight(noted: ExposureNoted, sensitivity: str | None, speed_index: float | None) -> Against:
    """Return a noted exposure of such a plate beside what daylight calls for.

    Raises Refused with what is not known, or what daylight does not reckon with.
    """
    return against_daylight(given_of(noted, sensitivity, speed_index))


def given_of(noted: ExposureNoted, sensitivity: str | None, speed_index: float | None) -> Given:
    """Return a note as an exposure to be held against daylight.

    The scene is a landscape and the lighting front where nobody said. Raises Refused with what is not known.
    """
    if noted.latitude_deg is None or noted.longitude_deg is None:
        raise _unknown("where it was (a position, as 56.05N 2.72W)")
    if sensitivity is None or speed_index is None:
        raise _unknown("what the plates of its box see, or their speed index")
    if noted.f_number is None or noted.time_s is None:
        raise _unknown("its stop or its time")
    if not noted.taken or not noted.sky:
        raise _unknown("its hour or its sky")
    return Given(
        emulsion=read_emulsion(sensitivity, where="plate"),
        index=speed_index,
        taken=datetime.fromisoformat(noted.taken),
        place=Place(noted.latitude_deg, noted.longitude_deg),
        f_number=noted.f_number,
        time_s=noted.time_s,
        factor=noted.extension_factor * noted.filter_factor,
        sky=noted.sky,
        subject=noted.scene or "landscape",
        lighting=noted.lighting or "front",
    )


def _unknown(what: str) -> Refused:
    return Refused(f"nobody said {what}", where="daylight")
