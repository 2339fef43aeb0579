"""gpiozero's lgpio pins without the pulse that an active-low line gets at every open."""

from __future__ import annotations

from firmware_py.devices.lgpio_chip import find_chip, import_lgpio

lgpio = import_lgpio()

from gpiozero.pins.lgpio import LGPIOFactory, LGPIOPin  # noqa: E402 - it imports lgpio itself, too early


class SteadyPin(LGPIOPin):  # type: ignore[misc] # gpiozero has no types
    """A pin that becomes an output at its level, in one step.

    gpiozero claims the output low and then writes the level, which pulls an active-low relay in for a
    moment (its issue 1177).
    """

    def output_with_state(self, state: bool) -> None:
        """Claim the line as an output that starts at ``state``."""
        lgpio.gpio_claim_output(self.factory._handle, self._number, int(state))  # noqa: SLF001 - no public door


class SteadyFactory(LGPIOFactory):  # type: ignore[misc] # gpiozero has no types
    """gpiozero's lgpio factory on the chip that carries the header, making `SteadyPin`."""

    def __init__(self) -> None:
        super().__init__(chip=find_chip(lgpio))
        self.pin_class = SteadyPin
