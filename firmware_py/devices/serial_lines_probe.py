"""A thermometer that tells its temperature by itself, line by line, on a serial port."""

from __future__ import annotations

import math

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock
from firmware_py.devices.instrument_text import NumberPattern, Scale, TO_degC
from firmware_py.devices.probe import NoReading, Reading, believed
from firmware_py.devices.serial_wire import SerialWire

# A line that has waited longer than this for us to come back is not the bath's temperature any more.
STILL_FRESH_S = 2.0


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
        self._wire = SerialWire(port, baud, clock)
        self._clock = clock
        self._pattern = NumberPattern(pattern)
        self._to_degC = TO_degC[unit]
        self._within_s = answers_within_s
        self._tolerance_K = tolerance_K
        self._listened_s = -math.inf

    def read(self, now_s: float) -> Reading | NoReading:
        """Measure the temperature; ``now_s`` [boot s] stamps the answer."""
        try:
            with self._wire:
                number = self._pattern.read(self._line())
        except Refused as refusal:
            return NoReading(refusal.line, now_s)
        return believed(self._to_degC(number), self._tolerance_K, now_s)

    def close(self) -> None:
        """Let the port go; afterwards `read` gives `NoReading`."""
        self._wire.close()

    def _line(self) -> bytes:
        """Return a line that came in since we listened last, or the next one."""
        begun_s = self._clock.now_s()
        if begun_s - self._listened_s > STILL_FRESH_S:
            self._wire.forget(cut=True)
        line = self._wire.last_line() or self._wire.next_line(begun_s + self._within_s)
        self._listened_s = self._clock.now_s()
        if line is None:
            raise Refused(f"no line from {self._wire.path} in {self._within_s:g} s: usually its supply")
        return line
