"""The controller: nothing that a device does takes the timers down."""

from __future__ import annotations

from collections.abc import Sequence

from firmware_py.bench import acts
from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.controller import Controller, Devices
from firmware_py.devices.clock import SimulatedClock
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.devices.silent_sounder import SilentSounder
from firmware_py.journal.events import Entry
from firmware_py.switchboard.link import InProcessSwitchboard
from tests.bench.bench_at_hand import PLAIN, PROBE


class BadProbe:
    """A probe that breaks its promise never to raise."""

    name = PROBE
    blocking = False

    def read(self, now_s: float) -> Reading | NoReading:
        raise OSError("wet plug")

    def close(self) -> None:
        pass


class Shelf:
    """A book that keeps everything in memory."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []

    def append(self, entries: Sequence[Entry]) -> None:
        self.entries += entries


class Starter:
    """A person who opens a run, starts it, and waits for its rinse."""

    def __init__(self) -> None:
        self.started = False

    def next_due_s(self, bench: Bench) -> float | None:
        return None if self.started else bench.clock.now_s()

    def play(self, bench: Bench) -> None:
        if not self.started:
            self.started = True
            bench.do(acts.OpenRun(plate="Kvarnvik 3", routine="plain"))
            bench.do(acts.Proceed())

    def is_over(self, bench: Bench) -> bool:
        return self.started and len(bench.runs.lanes[1].record.steps) > 1


async def test_a_probe_that_raises_is_only_silent_and_the_development_ends_on_time():
    """Its words go to the page; the timer goes to its end."""
    clock = SimulatedClock()
    bench = Bench(BenchPlan({"plain": PLAIN}, {PROBE: "tray 1"}), clock)
    devices = Devices(InProcessSwitchboard((), clock), SilentSounder("s"), (BadProbe(),))
    controller = Controller(bench, clock, devices, Shelf(), Starter())
    await controller.run()
    assert bench.runs.lanes[1].record.steps[0].why == "time"
    word = bench.thermometers.words[PROBE]
    assert isinstance(word, NoReading)
    assert "wet plug" in word.why
