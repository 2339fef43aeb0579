"""The person as a device: switches worked by hand."""

from __future__ import annotations

from collections.abc import Callable


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
