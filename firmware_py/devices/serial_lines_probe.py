"""A thermometer that tells its temperature by itself, line by line, on a serial port."""

from __future__ import annotations

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock
from firmware_py.devices.instrument_text import Scale, TO_degC
from firmware_py.devices.probe import NoReading, Reading, believed
from firmware_py.devices.serial_lines import SerialLines


class SerialLinesProbe:
    """One line, one temperature, as often as the instrument likes, but within ``answers_within_s`` [s]."""

    blocking = True

    def __init__(
        self,
        name: str,
        port: str,
        clock: Clock,
        *,
        baud: int = 9600,
        unit: Scale = "degC",
        pattern: str = "{}",
        answers_within_s: float = 2.0,
        tolerance_K: float = 0.5,
    ) -> None:
        self.name = name
        self._lines = SerialLines(port, baud, pattern, clock, within_s=answers_within_s)
        self._to_degC = TO_degC[unit]
        self._tolerance_K = tolerance_K

    def read(self, now_s: float) -> Reading | NoReading:
        """Measure the temperature; ``now_s`` [boot s] stamps the answer."""
        try:
            number = self._lines.number()
        except Refused as refusal:
            return NoReading(refusal.line, now_s)
        return believed(self._to_degC(number), self._tolerance_K, now_s)

    def close(self) -> None:
        """Let the port go; afterwards `read` gives `NoReading`."""
        self._lines.close()
