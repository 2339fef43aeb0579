"""The person as a device: switches worked and thermometers read by hand."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.devices.probe import NoReading, Reading

# A bath drifts by a degree in some minutes: an older word says little. Common practice, no source.
STALE_AFTER_S = 300.0
# What a person reads off a dial or glass thermometer. Common practice, no source.
HAND_TOLERANCE_K = 0.5


class HandRelay:
    """A switch that a person works; ``tell`` takes the words that ask for it, and the state is believed."""

    def __init__(self, name: str, tell: Callable[[str], None] | None = None) -> None:
        self.name = name
        self._tell = tell
        self._is_on = False

    @property
    def is_on(self) -> bool:
        """Get whether the person was last asked to switch on."""
        return self._is_on

    def on(self) -> None:
        """Ask for the switch to be on."""
        self._move(on=True)

    def off(self) -> None:
        """Ask for the switch to be off."""
        self._move(on=False)

    def close(self) -> None:
        """Ask for the switch to be off, if it is on."""
        self.off()

    def _move(self, *, on: bool) -> None:
        if on == self._is_on:
            return
        self._is_on = on
        if self._tell is not None:
            self._tell(f"switch the {self.name} {'on' if on else 'off'}")


class HandProbe:
    """A thermometer that a person reads: the last word said, until it is stale."""

    blocking = False

    def __init__(
        self, name: str, *, tolerance_K: float = HAND_TOLERANCE_K, stale_after_s: float = STALE_AFTER_S
    ) -> None:
        self.name = name
        self._tolerance_K = tolerance_K
        self._stale_after_s = stale_after_s
        self._said: Reading | None = None
        self._closed = False

    def say(self, bath_degC: float, now_s: float) -> None:
        """Take the temperature [degC] that the person read at ``now_s`` [boot s]."""
        self._said = Reading(bath_degC, self._tolerance_K, now_s, "hand")

    def read(self, now_s: float) -> Reading | NoReading:
        """Return the last word, stamped with the moment it was said; none if it is too old."""
        if self._closed:
            return NoReading(f"thermometer {self.name!r} is put away", now_s)
        if self._said is None:
            return NoReading(f"nobody has said a temperature for {self.name!r} yet", now_s)
        age_s = now_s - self._said.taken_s
        if age_s > self._stale_after_s:
            return NoReading(f"the last word on {self.name!r} is {age_s / 60:.0f} min old", now_s)
        return self._said

    def close(self) -> None:
        """Put the thermometer away."""
        self._closed = True
