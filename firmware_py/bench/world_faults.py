"""The faults a script can play on the simulated bench, each handed to what it befalls."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from firmware_py.bench.jacket_world import HEATER_FAULTS, HeaterFault, JacketWorld
from firmware_py.bench.script import FaultName
from firmware_py.bench.world import FailingProbe, ProbeFault
from firmware_py.devices.clock import Clock

OF_JACKET = "jacket "


@dataclass(frozen=True, slots=True)
class WorldFaults:
    """Plays faults: of the tray's probe unless they name the jacket's, or the heater."""

    tray_probe: FailingProbe
    jacket_probe: FailingProbe
    jacket: JacketWorld
    clock: Clock

    def play_fault(self, fault: FaultName) -> None:
        """Let a fault begin, or end."""
        if fault in HEATER_FAULTS:
            self.jacket.play_fault(cast("HeaterFault", fault), self.clock.now_s())
        elif fault.startswith(OF_JACKET):
            self.jacket_probe.play_fault(cast("ProbeFault", fault.removeprefix(OF_JACKET)))
        else:
            self.tray_probe.play_fault(cast("ProbeFault", fault))
