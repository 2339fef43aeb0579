"""The gate's signs of life to the screen: while the gate is frozen, no key can reach the screen.

The screen passes them on to the controller, and what it lit goes out when they stop.
"""

from __future__ import annotations

import os
from contextlib import suppress

# Names the screen's end of the pipe, which it inherits.
VARIABLE = "EMBERTRAY_GATE"
# At least so often [s]; the screen says itself to the controller as often (`service.messages.BEAT_S`).
EVERY_S = 0.2


class Beats:
    """A pipe to one program behind the gate."""

    def __init__(self) -> None:
        self.reading, self._writing = os.pipe2(os.O_CLOEXEC | os.O_NONBLOCK)

    def handed_over(self) -> None:
        """Let the program's end go, once the program has it."""
        os.close(self.reading)
        self.reading = -1

    def beat(self) -> None:
        """Show life; a program that has ended, or does not read, is no concern here."""
        with suppress(OSError):
            os.write(self._writing, b".")

    def close(self) -> None:
        """Let the pipe go."""
        for end in (self.reading, self._writing):
            if end >= 0:
                os.close(end)
        self.reading = self._writing = -1
