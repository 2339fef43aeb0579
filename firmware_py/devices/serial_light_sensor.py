"""A light sensor that tells its number by itself, line by line, on a serial port."""

from __future__ import annotations

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock
from firmware_py.devices.light_sensor import Light, NoLight
from firmware_py.devices.serial_lines import SerialLines


class SerialLightSensor:
    """One line, one number, at least every ``answers_within_s`` [s]."""

    def __init__(
        self,
        name: str,
        port: str,
        clock: Clock,
        *,
        baud: int = 9600,
        pattern: str = "{}",
        answers_within_s: float = 2.0,
    ) -> None:
        self.name = name
        self._clock = clock
        self._lines = SerialLines(port, baud, pattern, clock, within_s=answers_within_s)

    def read(self) -> Light | NoLight:
        """Measure the light; stamped with the moment it came."""
        try:
            shown = self._lines.number()
        except Refused as refusal:
            return NoLight(refusal.line, self._clock.now_s())
        return Light(shown, self._clock.now_s())

    def close(self) -> None:
        """Let the port go; afterwards `read` gives `NoLight`."""
        self._lines.close()
