"""A bath of a script's own: a dish that cools in its room, with a probe in it."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.craft.simulation import CoolingTray, QuantisedProbe
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.rehearsal.jacket_world import TOLERANCE_K


@dataclass(slots=True)
class CoolingBath:
    """The dish, read by a probe with steps and noise; its time 0 is ``start_s`` [s] of the bench's clock.

    ``offset_s`` [s] is added to a moment of that clock once it has started anew.
    """

    tray: CoolingTray
    probe: QuantisedProbe
    start_s: float
    offset_s: float = 0.0

    def reading(self, now_s: float) -> Reading | NoReading:
        """Return what the probe shows at ``now_s`` [boot s]."""
        since_s = max(0.0, now_s + self.offset_s - self.start_s)
        shown_degC = self.probe.reading(self.tray.bath_degC(since_s), round(since_s))
        return Reading(shown_degC, TOLERANCE_K, now_s)
