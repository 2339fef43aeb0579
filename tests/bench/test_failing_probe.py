"""A probe whose driver fails in a way of its own is asked again, and the controller ends in good order."""

from __future__ import annotations

import asyncio

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.controller import Controller
from firmware_py.bench.open_devices import Devices
from firmware_py.devices.clock import SimulatedClock
from firmware_py.devices.probe import NoReading
from firmware_py.devices.silent_sounder import SilentSounder
from firmware_py.switchboard.link import InProcessSwitchboard


class Broken:
    name = "glass probe"
    blocking = True

    def __init__(self) -> None:
        self.asked = 0

    def read(self, now_s: float) -> NoReading:
        self.asked += 1
        raise RuntimeError("can't start new thread")

    def close(self) -> None:
        self.asked = -1


class Nowhere:
    def append(self, entries: object) -> None:
        return

    def look_after(self) -> None:
        pass


async def test_it_is_asked_again_and_holds_up_no_end():
    """Found by the storm: without memory, the probe was never asked again, and the end was a traceback."""
    clock, probe = SimulatedClock(speed=100.0), Broken()
    bench = Bench(BenchPlan(routines={}, trays={probe.name: "tray 1"}), clock)
    devices = Devices(InProcessSwitchboard((), clock), SilentSounder("sounder"), (probe,))
    controller = Controller(bench, clock, devices, Nowhere())
    running = asyncio.create_task(controller.run())
    async with asyncio.timeout(20.0):
        while probe.asked < 3:  # noqa: ASYNC110 - a thread of its own counts
            await asyncio.sleep(0.001)
        word = bench.thermometers.words[probe.name]
        assert isinstance(word, NoReading)
        assert "could not be asked (can't start new thread)" in word.why
        controller.stop("told to")
        await running
    assert probe.asked == -1
