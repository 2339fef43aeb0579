"""The simulated water: a tray in a jacket with its heater, in a room; and what can go wrong with heat."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from firmware_py.bench.warmth.heat_facts import HEATER, JACKET, ROOM
from firmware_py.craft.simulation import QuantisedProbe, TrayOnJacket
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.switchboard.reports import RelaySwitched, Report, SwitchboardLost

HeaterFault = Literal["heater relay stuck", "heater dead", "heater well"]
HEATER_FAULTS: frozenset[str] = frozenset(get_args(HeaterFault))
HEATER_W = 300.0
TOLERANCE_K = 0.5


def evening_water() -> TrayOnJacket:
    """Return an invented evening: tray and jacket a little warm in a cold shed, half-way down in 40 min."""
    return TrayOnJacket(20.4, 20.4, 15.0, bath_loss_W_per_K=0.2, jacket_loss_W_per_K=3.8)


class JacketWorld:
    """Water that is carried on whenever somebody looks; it hears from the switchboard when it is heated.

    ``offset_s`` [s] is added to a moment of the bench's clock, which may have started anew, to get its own.
    """

    def __init__(self, start_s: float, water: TrayOnJacket, heater_W: float = HEATER_W) -> None:
        self._water = water
        self._heater_W = heater_W
        self._moved_s = start_s
        self._relay_on = False
        self._fault: HeaterFault = "heater well"
        self.offset_s = 0.0

    @property
    def heat_W(self) -> float:
        """Get the power [W] that goes into the jacket now."""
        if self._fault == "heater dead":
            return 0.0
        return self._heater_W if self._relay_on or self._fault == "heater relay stuck" else 0.0

    def play_fault(self, fault: HeaterFault, now_s: float) -> None:
        """Let a fault of the heater begin, or end with "heater well"."""
        self.advance_to(now_s)
        self._fault = fault

    def heard(self, report: Report) -> None:
        """Take in what the switchboard says of the heater's relay."""
        if isinstance(report, RelaySwitched) and report.relay == HEATER:
            self.advance_to(report.at_s)
            self._relay_on = report.on
        elif isinstance(report, SwitchboardLost):
            self._relay_on = False

    def degrees_at(self, place: str, now_s: float) -> float:
        """Return the true temperature [degC] of a place: the jacket, the room, or any tray."""
        self.advance_to(now_s)
        if place == ROOM:
            return self._water.room_degC
        return self._water.jacket_degC if place == JACKET else self._water.bath_degC

    def advance_to(self, now_s: float) -> None:
        """Carry the water on to ``now_s`` [boot s]; what is past stays."""
        own_s = now_s + self.offset_s
        if own_s > self._moved_s:
            self._water.advance(own_s - self._moved_s, self.heat_W)
            self._moved_s = own_s

    def lose_power(self, now_s: float) -> None:
        """Let the heater's relay fall at ``now_s`` [boot s]."""
        self.advance_to(now_s)
        self._relay_on = False


@dataclass(frozen=True, slots=True)
class JacketWater:
    """One place of the world, read by a probe with steps and noise; time 0 is ``start_s`` [boot s]."""

    world: JacketWorld
    place: str
    start_s: float
    probe: QuantisedProbe

    def reading(self, now_s: float) -> Reading | NoReading:
        """Return what the probe shows at ``now_s`` [boot s]."""
        true_degC = self.world.degrees_at(self.place, now_s)
        return Reading(self.probe.reading(true_degC, round(now_s - self.start_s)), TOLERANCE_K, now_s)
