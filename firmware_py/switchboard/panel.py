"""The relays of the switchboard process: opened once, thrown with the moment measured at the pin."""

from __future__ import annotations

from pathlib import Path

from firmware_py.devices.by_hand import HandRelay
from firmware_py.devices.relay import Relay
from firmware_py.switchboard.commands import Configure, RelayWiring
from firmware_py.switchboard.realtime import boot_now_s
from firmware_py.switchboard.rules import wirings_by_name


class Panel:
    """Every relay by its name, each born in its safe state."""

    def __init__(self, configure: Configure) -> None:
        self.pins_kind = "none"
        self._relays = self._open(configure)

    def throw(self, relay: str, *, on: bool) -> float:
        """Move ``relay`` and return the moment [boot s] right after."""
        line = self._relays[relay]
        if on:
            line.on()
        else:
            line.off()
        return boot_now_s()

    def release_all(self) -> list[str]:
        """Release every relay, whatever happens with the others; return what went wrong."""
        failures: list[str] = []
        for relay in self._relays.values():
            try:
                relay.off()
            except Exception as error:  # noqa: BLE001 - the next relay must be released in any case
                failures.append(f"{relay.name}: {error or type(error).__name__}")
        return failures

    def _open(self, configure: Configure) -> dict[str, Relay]:
        wirings = wirings_by_name(configure.relays)
        if all(wiring.pin is None for wiring in configure.relays):
            return {name: HandRelay(name) for name in wirings}
        from firmware_py.devices.gpio_relay import GpioRelay
        from firmware_py.devices.pins import open_pins

        pins = open_pins(configure.pins, record=Path(configure.record) if configure.record else None)
        self.pins_kind = pins.kind

        def opened(wiring: RelayWiring) -> Relay:
            if wiring.pin is None:
                return HandRelay(wiring.name)
            return GpioRelay(wiring.name, wiring.pin, pins, active_high=wiring.active_high)

        return {name: opened(wiring) for name, wiring in wirings.items()}
