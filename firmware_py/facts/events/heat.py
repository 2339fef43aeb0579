"""The facts of the heater and of the thermometers: what was set, what was stopped, what was measured."""

from __future__ import annotations

from typing import Literal

from firmware_py.facts import quantities as q
from firmware_py.facts.events.event import Event

CalibrationMethod = Literal["ice point", "reference thermometer"]


class HeatSet(Event, frozen=True, kw_only=True, tag="HeatSet"):
    """A person let the heater bring the water to ``set_degC`` [degC], for the bath of that name if any.

    Its subject is the session of the bench.
    """

    set_degC: q.Degrees
    bath: str = ""


class HeatEnded(Event, frozen=True, kw_only=True, tag="HeatEnded"):
    """The heater was let be, by a person or by what is named; its subject is the session of the bench."""

    why: str


class HeatStopped(Event, frozen=True, kw_only=True, tag="HeatStopped"):
    """A watcher of interlock 4 stopped the heater; its subject is the session of the bench."""

    watcher: str
    why: str


class ProbeMet(Event, frozen=True, kw_only=True, tag="ProbeMet"):
    """A probe was used for the first time; its subject is the probe's own id.

    ``serial`` tells it from another that is given the same name later.
    """

    probe: str
    serial: str


class ProbeCalibrated(Event, frozen=True, kw_only=True, tag="ProbeCalibrated"):
    """``offset_K`` [K] is to be added to the probe's own readings.

    The median of ``readings`` readings was ``read_degC`` [degC], in something known to be at
    ``reference_degC`` ± ``tolerance_K`` (the reading's step included) [degC, K].
    """

    method: CalibrationMethod
    offset_K: q.Difference
    tolerance_K: q.Tolerance
    reference_degC: q.Degrees
    read_degC: q.Degrees
    readings: q.Count


AnyHeatEvent = HeatSet | HeatEnded | HeatStopped
AnyProbeEvent = ProbeMet | ProbeCalibrated
