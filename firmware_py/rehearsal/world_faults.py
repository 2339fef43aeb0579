"""The faults a script can play on the simulated bench, each handed to what it befalls."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import cast

from firmware_py.craft.refusal import Refused
from firmware_py.rehearsal.jacket_world import HEATER_FAULTS, HeaterFault, JacketWorld
from firmware_py.rehearsal.script import FaultName
from firmware_py.rehearsal.world import FailingProbe, ProbeFault

OF_JACKET = "jacket "


@dataclass(frozen=True, slots=True)
class WorldFaults:
    """Plays faults: of the probe that is named, or the usual one of tray or jacket; of the heater."""

    probes: Mapping[str, FailingProbe]
    usual: str
    of_jacket: str
    jacket: JacketWorld
    now_s: Callable[[], float]

    def play_fault(self, fault: FaultName, probe: str | None = None) -> None:
        """Let a fault begin, or end. Raises Refused where no such probe is."""
        if fault in HEATER_FAULTS:
            self.jacket.play_fault(cast("HeaterFault", fault), self.now_s())
            return
        called = probe or (self.of_jacket if fault.startswith(OF_JACKET) else self.usual)
        if called not in self.probes:
            raise Refused(f"there is no probe {called!r}", where="fault", allowed=", ".join(self.probes))
        self.probes[called].play_fault(cast("ProbeFault", fault.removeprefix(OF_JACKET)))
