"""An instrument that tells a number by itself, line by line, on a serial port."""

from __future__ import annotations

import math

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock
from firmware_py.devices.instrument_text import NumberPattern
from firmware_py.devices.serial_wire import SerialWire

# A line that has waited longer than this for us to come back tells of another time.
STILL_FRESH_S = 2.0


class SerialLines:
    """The newest number of the stream, as often as the instrument likes, but within ``within_s`` [s]."""

    def __init__(self, port: str, baud: int, pattern: str, clock: Clock, *, within_s: float) -> None:
        self._wire = SerialWire(port, baud, clock)
        self._pattern = NumberPattern(pattern)
        self._clock = clock
        self._within_s = within_s
        self._listened_s = -math.inf

    def number(self) -> float:
        """Return a number that came in since we asked last, or the next one; raises Refused without."""
        with self._wire:
            return self._pattern.read(self._line())

    def close(self) -> None:
        """Let the port go."""
        self._wire.close()

    def _line(self) -> bytes:
        begun_s = self._clock.now_s()
        if begun_s - self._listened_s > STILL_FRESH_S:
            self._wire.forget(cut=True)
        line = self._wire.last_line() or self._wire.next_line(begun_s + self._within_s)
        self._listened_s = self._clock.now_s()
        if line is None:
            raise Refused(f"no line from {self._wire.path} in {self._within_s:g} s: usually its supply")
        return line
