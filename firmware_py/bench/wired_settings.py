"""How each device is connected, by the settings, in words."""

from __future__ import annotations

from firmware_py.bench.wired import Wired
from firmware_py.settings import Settings
from firmware_py.settings.foot import FootSection

SOUNDER_BODIES = {"none": "none wired", "terminal": "bell of the terminal"}


def wired(settings: Settings) -> tuple[Wired, ...]:
    """Return what the settings say of each device: how it is connected."""
    relays = [Wired("relay", name, _on_pin(relay.pin)) for name, relay in settings.relay.items()]
    probes = [
        Wired("probe", name, "by hand" if probe.wire is None else f"{probe.body} {probe.wire}")
        for name, probe in settings.probe.items()
    ]
    foot, sounder = settings.foot_switch, settings.sounder
    return (
        Wired("switchboard", "switchboard", f"pins by {settings.bench.pins}"),
        *relays,
        *probes,
        Wired("foot switch", "foot switch", _foot_body(foot)),
        *_light_sensor(settings),
        Wired("sounder", "sounder", SOUNDER_BODIES.get(sounder.body) or _on_pin(sounder.pin)),
    )


def _light_sensor(settings: Settings) -> list[Wired]:
    sensor = settings.light_sensor
    return (
        [] if sensor.port is None else [Wired("light sensor", "light sensor", f"{sensor.body} {sensor.port}")]
    )


def _foot_body(foot: FootSection) -> str:
    return {"none": "none wired", "usb": f"USB {foot.device}"}.get(foot.body) or _on_pin(foot.pin)


def _on_pin(pin: int | None) -> str:
    return "by hand" if pin is None else f"pin {pin}"
