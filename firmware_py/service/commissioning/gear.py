"""The hardware as commissioning takes it in hand: relays, thermometers, pedal, and a load on the board."""

from __future__ import annotations

import asyncio
import contextlib
import os
import subprocess
import sys
from collections.abc import AsyncIterator, Iterator, Sequence
from pathlib import Path
from typing import Literal, Protocol

from firmware_py.bench.bench_settings import relay_wirings
from firmware_py.bench.wiring import open_foot_switch, open_probe
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock, Clock
from firmware_py.devices.foot_switch import FootEdge, FootSwitch
from firmware_py.devices.onewire import DEVICES, OneWireProbe
from firmware_py.devices.pins import open_pins
from firmware_py.devices.probe import Probe, Reading
from firmware_py.settings import Settings
from firmware_py.settings.foot import FootSection
from firmware_py.strict_toml import Seconds
from firmware_py.switchboard.commands import Configure
from firmware_py.switchboard.link import Switchboard
from firmware_py.switchboard.process import ProcessSwitchboard
from firmware_py.switchboard.reports import SwitchboardReady

# Ends by itself when we die, so that nothing leaves a core spinning.
SPIN = "import os\nparent = os.getppid()\nwhile os.getppid() == parent:\n    pass"
# What a person is asked to do; on the simulated bench it is done by itself.
Deed = Literal["warm a probe", "probes in ice", "press the foot switch"]


class Gear(Protocol):
    """Everything that is wired, opened."""

    clock: Clock
    switchboard: Switchboard
    probes: Sequence[Probe]
    pins_said: SwitchboardReady | None

    def person_does(self, deed: Deed) -> None:
        """Take in what the person was just asked to do."""
        ...

    def raw_edges(self) -> contextlib.AbstractContextManager[list[float]]:
        """Give the list that fills with the moments [boot s] of the foot switch's edges, bounce and all."""
        ...

    def load(self) -> contextlib.AbstractContextManager[None]:
        """Keep every core of the machine busy meanwhile."""
        ...

    async def aclose(self) -> None:
        """Make every relay safe and give everything back."""
        ...


class RealGear:
    """What the settings name, on this board. `opened` gives it."""

    def __init__(self, settings: Settings) -> None:
        self.clock: Clock = BootClock()
        self.pins_said: SwitchboardReady | None = None
        self._settings = settings
        bench = settings.bench
        self.switchboard: Switchboard = ProcessSwitchboard(
            Configure(relay_wirings(settings), bench.pins, bench.pin_record), self.clock
        )
        self.probes: Sequence[Probe] = _all_probes(settings, self.clock)

    async def start(self) -> None:
        """Open the relays. Raises Refused where that fails."""
        assert isinstance(self.switchboard, ProcessSwitchboard)
        self.switchboard.listen(self._note)
        await self.switchboard.start()

    def _note(self, report: object) -> None:
        if isinstance(report, SwitchboardReady):
            self.pins_said = report

    def person_does(self, deed: Deed) -> None:
        """Do nothing: the person does it."""

    @contextlib.contextmanager
    def raw_edges(self) -> Iterator[list[float]]:
        """Give the list that fills with the moments [boot s] of the foot switch's edges, bounce and all."""
        edges: list[float] = []
        foot = self._raw_foot()

        def note(edge: FootEdge) -> None:
            edges.append(edge.at_s)

        foot.listen(note)
        try:
            yield edges
        finally:
            foot.close()

    def _raw_foot(self) -> FootSwitch:
        section = self._settings.foot_switch
        pins = open_pins(self._settings.bench.pins) if section.pin is not None else None
        raw = FootSection(
            body=section.body,
            pin=section.pin,
            device=section.device,
            key=section.key,
            debounce=Seconds(0.001),
            long_press=section.long_press,
        )
        foot = open_foot_switch(raw, pins, self.clock, settle_s=0.0)
        if foot is None:
            raise Refused("no foot switch is set", allowed="`[foot-switch]` in bench.toml")
        return foot

    @contextlib.contextmanager
    def load(self) -> Iterator[None]:
        """Keep every core of the machine busy meanwhile."""
        busy = [subprocess.Popen([sys.executable, "-c", SPIN]) for _ in range(2 * (os.cpu_count() or 1))]
        try:
            yield
        finally:
            for process in busy:
                process.kill()
                process.wait()

    async def aclose(self) -> None:
        """Make every relay safe and give everything back."""
        for probe in self.probes:
            probe.close()
        await self.switchboard.aclose()


@contextlib.asynccontextmanager
async def opened(settings: Settings) -> AsyncIterator[RealGear]:
    """Give the opened hardware, and see that every relay is off again in the end."""
    gear = RealGear(settings)
    await gear.start()
    try:
        yield gear
    finally:
        await gear.aclose()


def found_serials(folder: Path = DEVICES) -> list[str]:
    """Return the serial numbers of the thermometers on the kernel's 1-Wire bus."""
    if not folder.is_dir():
        return []
    return sorted(
        path.name for path in folder.iterdir() if path.name.partition("-")[0] in {"28", "22", "42", "10"}
    )


def _all_probes(settings: Settings, clock: Clock) -> list[Probe]:
    """Return the probes that are set and those that are on the bus and not set, by what they are known by."""
    set_ones = {
        section.wire: open_probe(section.wire, section, clock)
        for section in settings.probe.values()
        if section.wire is not None
    }
    folders = {Path(section.folder) for section in settings.probe.values() if section.serial} or {DEVICES}
    for folder in folders:
        for serial in found_serials(folder):
            set_ones.setdefault(serial, OneWireProbe(serial, serial, folder=folder))
    return [probe for probe in set_ones.values() if probe is not None]


async def read_all(gear: Gear) -> dict[str, float]:
    """Return what every probe that reads shows now [degC], by what it is known by."""
    now_s = gear.clock.now_s()
    words = await asyncio.gather(*(asyncio.to_thread(probe.read, now_s) for probe in gear.probes))
    shown = zip(gear.probes, words, strict=True)
    return {probe.name: word.bath_degC for probe, word in shown if isinstance(word, Reading)}
