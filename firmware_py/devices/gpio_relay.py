"""A relay on a line of the board."""

from __future__ import annotations

from gpiozero import OutputDevice
from gpiozero.exc import GPIOZeroError

from firmware_py.craft.refusal import Refused
from firmware_py.devices.pins import Pins


class GpioRelay:
    """A relay driven by one pin, active high or low; it is born at its off level, without a pulse."""

    def __init__(self, name: str, pin: int, pins: Pins, *, active_high: bool = True) -> None:
        self.name = name
        try:
            self._line = OutputDevice(
                pin, active_high=active_high, initial_value=False, pin_factory=pins.factory
            )
        except GPIOZeroError as error:
            raise Refused(f"pin {pin} for relay {name!r}: {error}", allowed="a free line") from error
        self._is_on = False

    @property
    def is_on(self) -> bool:
        """Get whether the output is energised."""
        return self._is_on

    def on(self) -> None:
        """Energise the output."""
        self._line.on()
        self._is_on = True

    def off(self) -> None:
        """Release the output."""
        if not self._line.closed:
            self._line.off()
        self._is_on = False

    def close(self) -> None:
        """Release the output and give the line back."""
        self.off()
        self._line.close()
