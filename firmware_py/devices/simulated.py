"""Devices that exist only in a rehearsal or a test; the clock is whosever they are given."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.devices.clock import Clock
from firmware_py.devices.light_sensor import Light, NoLight
from firmware_py.devices.probe import NoReading, Reading, ReadingSource


class SimulatedRelay:
    """A relay that only remembers."""

    def __init__(self, name: str) -> None:
        self.name = name
        self._is_on = False
        self._closed = False

    @property
    def is_on(self) -> bool:
        """Get whether the output is energised."""
        return self._is_on

    def on(self) -> None:
        """Energise the output."""
        if self._closed:
            raise RuntimeError(f"relay {self.name!r} is closed")
        self._is_on = True

    def off(self) -> None:
        """Release the output."""
        self._is_on = False

    def close(self) -> None:
        """Release the output for good."""
        self.off()
        self._closed = True


class SimulatedProbe:
    """A probe in a bath whose temperature at any moment is ``bath_degC(time_s)``; it can be unplugged."""

    blocking = False

    def __init__(
        self,
        name: str,
        bath_degC: Callable[[float], float],
        *,
        tolerance_K: float = 0.5,
        source: ReadingSource = "probe",
    ) -> None:
        self.name = name
        self.trouble = ""
        self._bath_degC = bath_degC
        self._tolerance_K = tolerance_K
        self._source = source
        self._closed = False

    def read(self, now_s: float) -> Reading | NoReading:
        """Measure the bath at ``now_s`` [boot s], or say what the ``trouble`` is."""
        if self._closed or self.trouble:
            return NoReading(self.trouble or "the probe is closed", now_s)
        return Reading(self._bath_degC(now_s), self._tolerance_K, now_s, self._source)

    def close(self) -> None:
        """Let the wire go."""
        self._closed = True


class SimulatedLightSensor:
    """A sensor that shows ``shown(time_s)`` at any moment; it can be unplugged."""

    def __init__(self, name: str, shown: Callable[[float], float], clock: Clock) -> None:
        self.name = name
        self.trouble = ""
        self._shown = shown
        self._clock = clock
        self._closed = False

    def read(self) -> Light | NoLight:
        """Measure the light now, or say what the ``trouble`` is."""
        now_s = self._clock.now_s()
        if self._closed or self.trouble:
            return NoLight(self.trouble or "the sensor is closed", now_s)
        return Light(self._shown(now_s), now_s)

    def close(self) -> None:
        """Let the wire go."""
        self._closed = True
