"""gpiozero's mock pins that also write every level into a record file: the outside observer of the tests."""

from __future__ import annotations

from pathlib import Path

from gpiozero.pins.mock import MockFactory, MockPWMPin

from firmware_py.devices.pin_record import PinRecord

# A board that every release of gpiozero knows, with all 28 lines.
BOARD_REVISION = "a02082"


def recorded_factory(path: Path) -> MockFactory:
    """Return a factory of mock pins that record what is written to them in ``path``."""
    record = PinRecord(path)

    class RecordedPin(MockPWMPin):  # type: ignore[misc] # gpiozero has no types
        """A mock pin that notes each level as it is written, changed or not."""

        def output_with_state(self, state: bool) -> None:
            """Become an output at ``state`` in one step, as a real line can."""
            record.drive(self._number, high=state)
            self._function = "output"
            self._change_state(float(state))

        def _set_state(self, value: float) -> None:
            record.drive(self._number, high=bool(value))
            super()._set_state(value)

        def _set_function(self, value: str) -> None:
            super()._set_function(value)
            if value == "input":
                record.let_go(self._number)

    return MockFactory(revision=BOARD_REVISION, pin_class=RecordedPin)
