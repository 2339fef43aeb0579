"""What a relay is: one output with a safe state."""

from __future__ import annotations

from typing import Protocol


class Relay(Protocol):
    """One switched output. It is off at birth and off after close, and `off` may be called at any time.

    Only the switchboard process ever holds one.
    """

    name: str

    @property
    def is_on(self) -> bool:
        """Get whether the output is energised."""
        ...

    def on(self) -> None:
        """Energise the output."""
        ...

    def off(self) -> None:
        """Release the output; calling it again changes nothing."""
        ...

    def close(self) -> None:
        """Release the output and give the line back; the relay can not be used afterwards."""
        ...
