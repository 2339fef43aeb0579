"""The facts of a plate in its run that do not concern its steps: what it is, its baths, and its light."""

from __future__ import annotations

from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.facts import quantities as q
from firmware_py.facts.events.event import Event


class PlateDescribed(Event, frozen=True, kw_only=True, tag="PlateDescribed"):
    """The plates of the tray were said to be ``area_cm2`` [cm²] together, of this size and emulsion.

    ``emulsion`` is the name that the user's safelight tests go by.
    """

    size: str
    area_cm2: q.Area
    emulsion: str = ""
    sensitivity: Sensitivity | None = None


class BathNamed(Event, frozen=True, kw_only=True, tag="BathNamed"):
    """Step ``step`` is done in this bath; a development in it takes ``times_longer`` its fresh time.

    The last one before the step is over counts; where there was none, the first one after it, whose
    ``times_longer`` is 1.
    """

    step: q.Count
    bath_id: str
    bath: str
    times_longer: q.Times = 1.0


class LightFell(Event, frozen=True, kw_only=True, tag="LightFell"):
    """From now on ``light`` falls on the open plate, or does so no more."""

    light: str
    on: bool


AnyPlateEvent = PlateDescribed | BathNamed | LightFell
