"""The safelight during an exposure: set as the lamp's rule wants it, and given back afterwards."""

from __future__ import annotations

from typing import Protocol

from firmware_py.bench.interlocks.safe_start import SafeStart
from firmware_py.bench.lamp.lamp_rule import Safelight


class SafelightDoor(Protocol):
    """The safelight of the bench, with whatever other rules hold for it."""

    safe_start: SafeStart

    def safelight_is_on(self) -> bool | None:
        """Return whether the safelight is on; None on a bench without one."""
        ...

    def switch_safelight(self, on: bool, why: str) -> None:
        """Switch the safelight, as far as the other rules allow."""
        ...


class ExposureSafelight:
    """Remembers how the safelight was; a person's word in between counts for good."""

    def __init__(self, wanted: Safelight, door: SafelightDoor) -> None:
        self._wanted = wanted
        self._door = door
        self._was: bool | None = None

    def set(self) -> None:
        """Set it for an exposure."""
        is_on = self._door.safelight_is_on()
        if self._wanted == "unchanged" or is_on is None or is_on == (self._wanted == "on"):
            return
        self._was = is_on
        self._door.switch_safelight(self._wanted == "on", "for the exposure")

    def give_back(self) -> None:
        """Let it be as it was before the exposure; a lost switchboard lights nothing anew (interlock 6)."""
        was, self._was = self._was, None
        if was is None or (was and not self._door.safe_start.may_energise):
            return
        self._door.switch_safelight(was, "after the exposure")

    def person_decided(self) -> None:
        """Take in that a person switched it: it stays so."""
        self._was = None
