"""The water of a rehearsal with the probes in it, which outlives the controllers that read it."""

from __future__ import annotations

from collections.abc import Sequence

from firmware_py.bench.warmth.heat_facts import JACKET, ROOM
from firmware_py.craft.simulation import CoolingTray, QuantisedProbe
from firmware_py.rehearsal.bath_world import CoolingBath
from firmware_py.rehearsal.jacket_world import JacketWater, JacketWorld, evening_water
from firmware_py.rehearsal.script import WaterText
from firmware_py.rehearsal.world import FailingProbe

PROBE = "developer probe"
JACKET_PROBE = "jacket probe"
ROOM_PROBE = "room probe"
PLACES = {PROBE: "tray 1", JACKET_PROBE: JACKET, ROOM_PROBE: ROOM}


class RehearsedWorld:
    """The tray in its jacket, the script's own baths, and a probe in each; time 0 is ``start_s`` [boot s]."""

    def __init__(self, start_s: float, waters: Sequence[WaterText]) -> None:
        self.jacket = JacketWorld(start_s, evening_water())
        self.places = {**PLACES, **{_probe_in(water): water.bath for water in waters}}
        self._baths = {_probe_in(water): _bath(water, start_s, n) for n, water in enumerate(waters, 11)}
        in_jacket = {
            name: JacketWater(self.jacket, place, start_s, QuantisedProbe(seed=seed))
            for seed, (name, place) in enumerate(PLACES.items(), 1)
        }
        self.probes = {name: FailingProbe(name, water) for name, water in in_jacket.items()}
        self.probes |= {name: FailingProbe(name, bath) for name, bath in self._baths.items()}

    def lose_power(self, now_s: float) -> None:
        """Let everything that is switched fall at ``now_s`` [boot s]."""
        self.jacket.lose_power(now_s)

    def pass_s(self, offset_s: float) -> None:
        """Take a clock that started anew as ``offset_s`` [s] behind the one before."""
        self.jacket.offset_s += offset_s
        for bath in self._baths.values():
            bath.offset_s += offset_s


def _probe_in(water: WaterText) -> str:
    return f"probe in {water.bath}"


def _bath(water: WaterText, start_s: float, seed: int) -> CoolingBath:
    tray = CoolingTray(float(water.start), float(water.room), float(water.half) / 60.0)
    return CoolingBath(tray, QuantisedProbe(seed=seed), start_s)
