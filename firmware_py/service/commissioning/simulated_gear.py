"""The hardware of a rehearsed commissioning: everything answers, and nothing of it is a measurement."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Callable, Iterator, Sequence

from firmware_py.bench.bench_settings import relay_wirings
from firmware_py.devices.clock import Clock, SimulatedClock
from firmware_py.devices.probe import Probe
from firmware_py.devices.simulated import SimulatedProbe
from firmware_py.service.commissioning.gear import Deed
from firmware_py.settings import Settings
from firmware_py.switchboard.link import InProcessSwitchboard, Switchboard
from firmware_py.switchboard.reports import SwitchboardReady

ROOM_degC, HAND_degC = 19.5, 33.0
WARMS_IN_S = 15.0
# What each probe is out by [K], in turn: as much as real ones may be.
OUT_BY_K = (0.1875, -0.125, 0.3125, 0.0)
# A press of the foot and its end, each with the bounce of its contacts [s].
DOWN_S, UP_S = (0.0, 0.0004, 0.0011, 0.0023, 0.0042), (0.0, 0.0007, 0.0019)
PRESS_S, EVERY_S = 0.4, 1.2
PRESSES = 10


class SimulatedGear:
    """The same bench without hardware, on a clock that jumps; the person's deeds are done by itself."""

    def __init__(self, settings: Settings) -> None:
        self.clock: Clock = SimulatedClock()
        self.switchboard: Switchboard = InProcessSwitchboard(relay_wirings(settings), self.clock)
        self.pins_said: SwitchboardReady | None = None
        wires = [section.wire for section in settings.probe.values() if section.wire is not None]
        self._names = wires or ["28-00000000a001", "28-00000000a002"]
        self.probes: Sequence[Probe] = [
            SimulatedProbe(name, self._shown(number)) for number, name in enumerate(self._names)
        ]
        self._warm: list[float] = []
        self._is_in_ice = False
        self._edges: list[float] = []

    def _shown(self, number: int) -> Callable[[float], float]:
        def at(time_s: float) -> float:
            out_K = OUT_BY_K[number % len(OUT_BY_K)]
            if self._is_in_ice:
                return out_K
            if number >= len(self._warm):
                return ROOM_degC + out_K
            held_s = max(0.0, time_s - self._warm[number])
            # Taken up, and laid down again when the next one is.
            let_go_s = self._warm[number + 1] if number + 1 < len(self._warm) else math.inf
            cooled_s = max(0.0, time_s - let_go_s)
            rise_K = (HAND_degC - ROOM_degC) * (1.0 - math.exp(-(held_s - cooled_s) / WARMS_IN_S))
            return ROOM_degC + out_K + rise_K * math.exp(-cooled_s / WARMS_IN_S)

        return at

    def person_does(self, deed: Deed) -> None:
        """Do what the person was asked to do."""
        match deed:
            case "warm a probe":
                self._warm.append(self.clock.now_s())
            case "probes in ice":
                self._is_in_ice = True
            case "press the foot switch":
                self._press()

    def _press(self) -> None:
        begun_s = self.clock.now_s()
        for number in range(PRESSES):
            down_s = begun_s + number * EVERY_S
            self._edges += [down_s + bounce_s for bounce_s in DOWN_S]
            self._edges += [down_s + PRESS_S + bounce_s for bounce_s in UP_S]

    @contextlib.contextmanager
    def raw_edges(self) -> Iterator[list[float]]:
        """Give the list that fills with the moments [boot s] of the foot switch's edges, bounce and all."""
        self._edges = []
        yield self._edges

    def load(self) -> contextlib.AbstractContextManager[None]:
        """Load nothing: no board is at work."""
        return contextlib.nullcontext()

    async def aclose(self) -> None:
        """Make every relay safe."""
        await self.switchboard.aclose()
