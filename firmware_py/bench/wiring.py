"""A bench as its settings wire it: real devices, opened one after another, or a refusal that names one."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from firmware_py.bench.bench import Bench
from firmware_py.bench.bench_settings import bench_plan, relay_wirings
from firmware_py.bench.controller import Controller
from firmware_py.bench.open_devices import Devices
from firmware_py.devices.clock import Clock
from firmware_py.devices.foot_switch import FootSwitch
from firmware_py.devices.light_sensor import LightSensor
from firmware_py.devices.onewire import OneWireProbe
from firmware_py.devices.pins import Pins, open_pins
from firmware_py.devices.probe import Probe
from firmware_py.devices.silent_sounder import SilentSounder
from firmware_py.devices.sounder import Sounder
from firmware_py.journal.pulled import PulledPlates
from firmware_py.journal.store import Journal
from firmware_py.settings import Settings
from firmware_py.settings.foot import FootSection
from firmware_py.settings.probe import ProbeSection
from firmware_py.switchboard.commands import Configure
from firmware_py.switchboard.last_words import last_words_path
from firmware_py.switchboard.process import ProcessSwitchboard


async def wired_bench(settings: Settings, clock: Clock, journal: Journal) -> Controller:
    """Open every device that the settings name and return the controller of that bench.

    Raises Refused, with everything that was opened closed again, where one of them cannot be opened.
    """
    bench = Bench(bench_plan(settings), clock)
    configure = Configure(
        relay_wirings(settings),
        settings.bench.pins,
        settings.bench.pin_record,
        last_words=str(last_words_path(journal.path)),
    )
    switchboard = ProcessSwitchboard(configure, clock)
    opened = [open_probe(name, section, clock) for name, section in settings.probe.items()]
    probes = [probe for probe in opened if probe is not None]
    foot, sounder = _foot_and_sounder(settings, clock)
    try:
        # Last: loading gpiozero takes a small board longer than the switchboard waits for our first beat.
        await switchboard.start()
    except BaseException:
        _close([foot, sounder])
        raise
    if settings.bench.pins == "mock":
        bench.notices.say("mock pins", "Mock pins: nothing is really switched", clock.now_s())
    devices = Devices(switchboard, sounder, probes, foot, open_light_sensor(settings, clock))
    return Controller(bench, clock, devices, journal, precedents=PulledPlates(journal.path))


def open_probe(name: str, section: ProbeSection, clock: Clock) -> Probe | None:
    """Return the probe as the settings describe it, None for one that a person reads."""
    match section.body:
        case "one-wire":
            assert section.serial is not None
            tolerance_K = float(section.tolerance)
            return OneWireProbe(name, section.serial, folder=Path(section.folder), tolerance_K=tolerance_K)
        case "serial-lines" | "serial-query":
            return _serial_probe(name, section, clock)
        case "by-hand":
            return None


def _serial_probe(name: str, section: ProbeSection, clock: Clock) -> Probe:
    """Return a probe on a serial port; pyserial is loaded only if there is one."""
    assert section.port is not None
    if section.body == "serial-lines":
        from firmware_py.devices.serial_lines_probe import SerialLinesProbe

        return SerialLinesProbe(
            name,
            section.port,
            clock,
            baud=section.baud,
            unit=section.unit,
            pattern=section.pattern,
            answers_within_s=float(section.answers_within),
            tolerance_K=float(section.tolerance),
        )
    from firmware_py.devices.serial_query_probe import SerialQueryProbe

    return SerialQueryProbe(
        name,
        section.port,
        clock,
        baud=section.baud,
        unit=section.unit,
        pattern=section.pattern,
        query=section.query,
        instrument=section.instrument,
        answers_within_s=float(section.answers_within),
        tolerance_K=float(section.tolerance),
    )


def open_light_sensor(settings: Settings, clock: Clock) -> LightSensor | None:
    """Return the light sensor as the settings describe it, None where there is none."""
    said = settings.light_sensor
    if said.port is None:
        return None
    from firmware_py.devices.serial_light_sensor import SerialLightSensor

    within_s = float(said.answers_within)
    return SerialLightSensor(
        "light sensor", said.port, clock, baud=said.baud, pattern=said.pattern, answers_within_s=within_s
    )


def _foot_and_sounder(settings: Settings, clock: Clock) -> tuple[FootSwitch | None, Sounder]:
    """Open what is wired to this process; gpiozero and evdev are loaded only if something needs them."""
    section = settings.foot_switch
    needs_pins = section.pin is not None or settings.sounder.pin is not None
    pins = _pins(settings) if needs_pins else None
    foot = open_foot_switch(section, pins, clock)
    if pins is None or settings.sounder.pin is None:
        return foot, SilentSounder("no sounder")
    from firmware_py.devices.gpio_sounder import GpioSounder

    try:
        return foot, GpioSounder("sounder", settings.sounder.pin, pins)
    except BaseException:
        _close([foot])
        raise


def open_foot_switch(
    section: FootSection, pins: Pins | None, clock: Clock, *, settle_s: float | None = None
) -> FootSwitch | None:
    """Return the foot switch as the settings describe it, None where there is none.

    ``settle_s`` [s] stands in for the debounce that is set.
    """
    settle_s = float(section.debounce) if settle_s is None else settle_s
    if section.device is not None:
        from firmware_py.devices.usb_foot_switch import UsbFootSwitch

        return UsbFootSwitch("foot switch", section.device, clock, key=section.key, settle_s=settle_s)
    if section.pin is None or pins is None:
        return None
    from firmware_py.devices.gpio_foot_switch import GpioFootSwitch

    return GpioFootSwitch("foot switch", section.pin, pins, clock, settle_s=settle_s)


def _pins(settings: Settings) -> Pins:
    return open_pins(settings.bench.pins)


def _close(devices: Sequence[FootSwitch | Sounder | None]) -> None:
    for device in devices:
        if device is not None:
            device.close()
