"""The same pulses by four ways: the switchboard, and what one would take without it."""

import asyncio
import threading

from gpiozero import LED

from firmware_py.devices.clock import BootClock
from firmware_py.devices.gpio_foot_switch import GpioFootSwitch
from firmware_py.devices.pins import open_pins
from firmware_py.switchboard.commands import Configure, RelayWiring
from firmware_py.switchboard.process import ProcessSwitchboard
from firmware_py.switchboard.reports import (
    ExposureBegan,
    ExposureEnded,
    Report,
    SwitchboardLost,
    SwitchboardReady,
)
from tests.benchmarks.bare_timer import rests_s
from tests.switchboard.pin_watch import spans

LAMP_PIN, FOOT_PIN = 17, 5
LAMP = RelayWiring("printing-lamp", LAMP_PIN, ceiling_s=60.0, continuous=False)


def durations_s(number):
    """Return ``number`` exposures from 50 ms to 8 s, most of them short: the error does not grow with length.

    Source: own.
    """
    rare = {number // 2: 8.0, number // 3: 4.0, number // 4: 2.0} if number >= 200 else {number // 2: 1.0}
    return [rare.get(i) or (1.0 if i % 100 == 50 else 0.2 if i % 10 == 5 else 0.05) for i in range(number)]


def lit(record):
    """Return when the lamp's line was active, by the record."""
    return spans(record, LAMP_PIN)


def errors_s(record, planned_s):
    """Return how much longer the pin was on than planned [s], pulse by pulse, by the pin's own record."""
    found = lit(record)
    if len(found) != len(planned_s):
        raise RuntimeError(f"{len(planned_s)} pulses were asked for, the pin shows {len(found)}")
    return [span.off_s - span.on_s - for_s for span, for_s in zip(found, planned_s, strict=True)]


def in_step(ends_s, *, period_s=0.1, window_s=0.004):
    """Return how many of these moments [boot s] fall into the same window of every period.

    By chance it is about their number times window by period. Nearly all of them means that something with
    that period took the processor away: a hypervisor that deals out its time so.
    """
    phases_s = [end_s % period_s for end_s in ends_s]
    starts_s = [phase_s - 1e-9 for phase_s in phases_s]
    return max(
        (sum((p - start_s) % period_s < window_s for p in phases_s) for start_s in starts_s), default=0
    )


class Board:
    """A running switchboard process that writes its pins' record."""

    def __init__(self, record):
        self.switchboard = ProcessSwitchboard(Configure((LAMP,), "mock", str(record)), BootClock())
        self.reports: asyncio.Queue[Report] = asyncio.Queue()
        self.switchboard.listen(self.reports.put_nowait)

    async def __aenter__(self):
        await self.switchboard.start()
        return self

    async def __aexit__(self, *_):
        await self.switchboard.aclose()

    async def until(self, kind):
        while True:
            report = await self.reports.get()
            if isinstance(report, kind):
                return report
            assert not isinstance(report, SwitchboardLost), report.why


async def by_switchboard(record, planned_s):
    """Expose by the switchboard process, as the bench does."""
    async with Board(record) as board:
        for number, (for_s, rest_s) in enumerate(zip(planned_s, rests_s(), strict=False)):
            board.switchboard.expose(str(number), LAMP.name, for_s=for_s, ceiling_s=60.0)
            await board.until(ExposureEnded)
            await asyncio.sleep(rest_s)


async def by_blink(record, planned_s):
    """Expose by gpiozero's own background blink."""
    with LED(LAMP_PIN, pin_factory=open_pins("mock", record=record).factory) as lamp:
        for for_s, rest_s in zip(planned_s, rests_s(), strict=False):
            lamp.blink(on_time=for_s, off_time=rest_s, n=1, background=True)
            await asyncio.to_thread(lamp._blink_thread.join)


async def by_threading_timer(record, planned_s):
    """Expose by ``threading.Timer``."""
    with LED(LAMP_PIN, pin_factory=open_pins("mock", record=record).factory) as lamp:
        for for_s, rest_s in zip(planned_s, rests_s(), strict=False):
            timer = threading.Timer(for_s, lamp.off)
            lamp.on()
            timer.start()
            await asyncio.to_thread(timer.join)
            await asyncio.sleep(rest_s)


async def by_asyncio_timer(record, planned_s):
    """Expose by a timer of the event loop."""
    loop = asyncio.get_running_loop()
    with LED(LAMP_PIN, pin_factory=open_pins("mock", record=record).factory) as lamp:
        for for_s, rest_s in zip(planned_s, rests_s(), strict=False):
            over = loop.create_future()
            lamp.on()
            loop.call_later(for_s, _end, lamp, over)
            await over
            await asyncio.sleep(rest_s)


def _end(lamp, over):
    lamp.off()
    over.set_result(None)


SWITCHBOARD = "switchboard"
WAYS = {
    SWITCHBOARD: by_switchboard,
    "gpiozero blink": by_blink,
    "threading.Timer": by_threading_timer,
    "asyncio timer": by_asyncio_timer,
}


async def foot_to_lamp_s(record, presses, settle_s):
    """Return the times [s] from the foot's first touch to the lamp's pin, through the controller's loop."""
    clock, pins, loop = BootClock(), open_pins("mock"), asyncio.get_running_loop()
    pedal = pins.factory.pin(FOOT_PIN)
    foot = GpioFootSwitch("pedal", FOOT_PIN, pins, clock, settle_s=settle_s)
    touched_s = []
    async with Board(record) as board:
        await board.until(SwitchboardReady)

        def expose(edge):
            if edge.down:
                board.switchboard.expose(str(edge.at_s), LAMP.name, for_s=0.03, ceiling_s=60.0)

        def heard(edge):
            loop.call_soon_threadsafe(expose, edge)

        foot.listen(heard)
        for _ in range(presses):
            touched_s.append(clock.now_s())
            await asyncio.to_thread(pedal.drive_low)
            await board.until(ExposureBegan)
            pedal.drive_high()
            await board.until(ExposureEnded)
            await asyncio.sleep(4 * settle_s)
        foot.close()
    return [span.on_s - at_s for span, at_s in zip(lit(record), touched_s, strict=True)]
