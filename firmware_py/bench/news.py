"""Brings the bench what its devices tell: readings, edges of the foot, light, reports of the switchboard."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from contextlib import suppress
from functools import partial

from firmware_py.bench.aside import aside
from firmware_py.bench.bench import Bench
from firmware_py.bench.open_devices import Devices
from firmware_py.devices.clock import Clock
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.devices.light_sensor import Light, LightSensor, NoLight
from firmware_py.devices.probe import NoReading, Probe, Reading
from firmware_py.switchboard.reports import (
    CommandRefused,
    ExposureBegan,
    ExposureEnded,
    GuardianLost,
    GuardianReady,
    RelaySwitched,
    Report,
    SwitchboardLost,
    SwitchboardReady,
)

READ_EVERY_S = 1.0
# While an exposure ends by dose, the light is read as often as its sensor speaks, but no oftener than this.
LOOK_AT_LIGHT_EVERY_S = 0.05


class News:
    """What comes in. After it, ``look`` has the bench looked at soon; ``act`` carries out at once.

    Only a foot is worth an ``act``: a report may come while the controller carries out what it wants.
    """

    def __init__(
        self,
        bench: Bench,
        clock: Clock,
        devices: Devices,
        *,
        look: Callable[[], None],
        act: Callable[[], None],
    ) -> None:
        self.read_next_s = clock.now_s()
        self._bench = bench
        self._clock = clock
        self._devices = devices
        self._look = look
        self._act = act

    def listen(self) -> list[asyncio.Task[None]]:
        """Listen to what tells by itself; return the tasks that ask what has to be waited for."""
        loop = asyncio.get_running_loop()
        self._devices.switchboard.listen(self._reported)
        if self._devices.foot is not None:
            self._bench.foot_found(is_down=self._devices.foot.is_down)
            self._devices.foot.listen(lambda edge: _soon(loop, self._stepped, edge))
        blocking = [probe for probe in self._devices.probes if probe.blocking]
        asking = [loop.create_task(self._read_for_ever(probe)) for probe in blocking]
        if self._devices.light is not None:
            asking.append(loop.create_task(self._look_for_ever(self._devices.light)))
        return asking

    def read_probes(self, now_s: float) -> None:
        """Read the probes that answer at once, if it is time to."""
        if now_s < self.read_next_s:
            return
        for probe in self._devices.probes:
            if not probe.blocking:
                self._bench.heard(probe.name, probe.read(now_s))
        # On a grid, so that lateness does not add up; a long pause is not caught up on.
        self.read_next_s += READ_EVERY_S
        if self.read_next_s <= now_s:
            self.read_next_s = now_s + READ_EVERY_S

    def look_at_foot(self) -> None:
        """Tell the bench whether the foot switch is there, and down."""
        if (foot := self._devices.foot) is not None:
            self._bench.foot_is(is_down=foot.is_down, is_there=foot.is_there)

    # --- probes and light ---

    async def _read_for_ever(self, probe: Probe) -> None:
        while True:
            due_s = self._clock.now_s() + READ_EVERY_S
            word = await self._asked(probe)
            self._bench.heard(probe.name, word)
            self._look()
            await self._clock.wait_until(due_s, asyncio.Event())

    async def _asked(self, probe: Probe) -> Reading | NoReading:
        """Return what a probe says; whatever fails on the way, it is asked again the next second."""
        try:
            return await aside(partial(_read, probe, self._clock), f"probe {probe.name}")
        except Exception as error:  # noqa: BLE001 - no memory, no thread, a driver's own: all give no reading
            return NoReading(f"it could not be asked ({error or type(error).__name__})", self._clock.now_s())

    async def _look_for_ever(self, sensor: LightSensor) -> None:
        while True:
            begun_s = self._clock.now_s()
            self._bench.light_is(await self._measured(sensor))
            is_measuring = self._bench.lamp_side.printing.dose.is_measuring
            if is_measuring:
                self._look()
            due_s = begun_s + (LOOK_AT_LIGHT_EVERY_S if is_measuring else READ_EVERY_S)
            await self._clock.wait_until(due_s, asyncio.Event())

    async def _measured(self, sensor: LightSensor) -> Light | NoLight:
        """Return what the sensor shows; whatever fails on the way, it is asked again the next time."""
        try:
            return await aside(sensor.read, f"light sensor {sensor.name}")
        except Exception as error:  # noqa: BLE001 - as for a probe
            return NoLight(f"it could not be asked ({error or type(error).__name__})", self._clock.now_s())

    # --- foot and switchboard ---

    def _stepped(self, edge: FootEdge) -> None:
        self._bench.step_on(edge)
        self._act()

    def _reported(self, report: Report) -> None:
        match report:
            case RelaySwitched():
                self._bench.relay_is(report.relay, report.on, "")
            case ExposureBegan() | ExposureEnded():
                self._bench.reported(report)
            case CommandRefused(id=str(exposure)):
                self._bench.exposure_refused(exposure, report.words)
            case SwitchboardLost():
                self._switchboard_lost(report)
            case SwitchboardReady():
                self._bench.relays_are_ready()
            case GuardianLost(why):
                self._bench.trouble("guardian", f"The guardian was lost ({why}); starting another")
            case GuardianReady():
                self._bench.trouble_over("guardian")
            case _:
                pass
        self._look()

    def _switchboard_lost(self, lost: SwitchboardLost) -> None:
        self._bench.relays_made_safe()
        safe = "every relay is off" if lost.made_safe else "PULL THE PLUG: the relays may still be on"
        self._bench.trouble("switchboard", f"The switchboard was lost ({lost.why}): {safe}")


def _read(probe: Probe, clock: Clock) -> Reading | NoReading:
    word = probe.read(clock.now_s())
    # The conversion takes most of a second: the reading is as old as its answer.
    now_s = clock.now_s()
    if isinstance(word, NoReading):
        return NoReading(word.why, now_s)
    return Reading(word.bath_degC, word.tolerance_K, now_s, word.source)


def _soon(loop: asyncio.AbstractEventLoop, heard: object, edge: FootEdge) -> None:
    with suppress(RuntimeError):
        loop.call_soon_threadsafe(heard, edge)  # type: ignore[arg-type]
