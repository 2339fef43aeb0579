"""The devices that a bench has open, and how they are given back."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.devices.foot_switch import FootSwitch
from firmware_py.devices.light_sensor import LightSensor
from firmware_py.devices.probe import Probe
from firmware_py.devices.sounder import Sounder
from firmware_py.switchboard.link import Switchboard


@dataclass(slots=True)
class Devices:
    """What this bench has open; it owns them."""

    switchboard: Switchboard
    sounder: Sounder
    probes: Sequence[Probe] = ()
    foot: FootSwitch | None = None
    light: LightSensor | None = None

    def close(self) -> None:
        """Give everything back but the switchboard, which has its last words to say first."""
        for device in (self.foot, self.sounder, self.light, *self.probes):
            if device is not None:
                _close(device)


def _close(device: FootSwitch | Sounder | LightSensor | Probe) -> None:
    """Give a device back; one that fails must not keep the relays and the book from being closed."""
    try:
        device.close()
    except Exception as error:  # noqa: BLE001 - each library fails in its own way
        context = {"message": f"{device.name} does not close", "exception": error}
        asyncio.get_running_loop().call_exception_handler(context)
