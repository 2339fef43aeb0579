"""Interlock 6: after any start of bench or switchboard, nothing is energised until a person acts."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.craft.refusal import Locked


@dataclass(slots=True)
class SafeStart:
    """Knows whether a person has acted since the relays were last made safe.

    Whatever energises a relay by itself (a thermostat, a safelight coming back) asks `may_energise` first.
    """

    may_energise: bool = False

    def person_acted(self) -> None:
        """Take in that a person did something."""
        self.may_energise = True

    def made_safe(self) -> None:
        """Take in that every relay fell to its safe state: nothing comes back by itself."""
        self.may_energise = False

    def require(self, relay: str) -> None:
        """Refuse to energise ``relay`` before a person acts."""
        if not self.may_energise:
            raise Locked(
                f"{relay} stays off after a start", where="interlock 6", allowed="once a person has acted"
            )
