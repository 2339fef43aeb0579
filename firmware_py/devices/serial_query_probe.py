"""A thermometer that answers when it is asked (SCPI), on a serial port."""

from __future__ import annotations

from firmware_py.craft.refusal import Refused, shown
from firmware_py.devices.clock import Clock
from firmware_py.devices.instrument_text import NumberPattern, Scale, TO_degC, plain_text
from firmware_py.devices.probe import NoReading, Reading, believed
from firmware_py.devices.serial_wire import SerialWire

# Every instrument of IEEE 488.2 answers this with maker, model, serial number, version.
NAME_QUERY = "*IDN?"


class SerialQueryProbe:
    """Asks ``query``, having asked for the name once; ``instrument`` are words that the name must hold.

    An answer that is late may still come, and would be taken for the next one. So after one the instrument
    is asked for its name again, and whatever comes before that is thrown away.
    """

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
        query: str = "MEAS:TEMP?",
        instrument: str | None = None,
        answers_within_s: float = 2.0,
        tolerance_K: float = 0.5,
    ) -> None:
        self.name = name
        self.model = ""
        self._wire = SerialWire(port, baud, clock)
        self._clock = clock
        self._pattern = NumberPattern(pattern)
        self._to_degC = TO_degC[unit]
        self._query = query
        self._instrument = instrument
        self._within_s = answers_within_s
        self._tolerance_K = tolerance_K
        self._in_step = False

    def read(self, now_s: float) -> Reading | NoReading:
        """Measure the temperature; ``now_s`` [boot s] stamps the answer."""
        try:
            with self._wire:
                number = self._pattern.read(self._ask())
        except Refused as refusal:
            self._in_step = False
            return NoReading(refusal.line, now_s)
        return believed(self._to_degC(number), self._tolerance_K, now_s)

    def close(self) -> None:
        """Let the port go; afterwards `read` gives `NoReading`."""
        self._wire.close()

    def _ask(self) -> bytes:
        if not self._in_step:
            self._meet()
        self._wire.say(self._query)
        line = self._wire.next_line(self._clock.now_s() + self._within_s)
        if line is None:
            raise Refused(f"no answer to {self._query} in {self._within_s:g} s")
        return line

    def _meet(self) -> None:
        """Ask for the name, and pass over what is not one: junk, and answers that come late."""
        self._wire.forget(cut=False)
        self._wire.say(NAME_QUERY)
        due_s = self._clock.now_s() + self._within_s
        while (line := self._wire.next_line(due_s)) is not None:
            # A name has four parts with commas between; an answer to anything else here has not.
            if line.count(b",") < 3:
                continue
            self.model = plain_text(line)
            if self._instrument is not None and self._instrument.casefold() not in self.model.casefold():
                raise Refused(f"another instrument answers: {shown(self.model)}", allowed=self._instrument)
            self._in_step = True
            return
        raise Refused(f"no answer to {NAME_QUERY} in {self._within_s:g} s: usually plug, baud rate or supply")
