"""What the keys of the Bench page do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from firmware_py.facts.acts.run import PlaySound
from tui.pages.bench.sound_words import SOUNDS
from tui.pages.shared.deeds import Deeds


class BenchDeeds(Deeds):
    """The acts behind the keys of the Bench page: nothing here switches anything but a sound."""

    pointed = 0
    first_line = 0

    if TYPE_CHECKING:

        def redraw(self) -> None:
            """Draw the page anew; the page does it."""

    def action_play(self) -> None:
        """Play the sound that is pointed at."""
        if self.desk.view is not None:
            self.desk.do(PlaySound(tune=SOUNDS[self.pointed]))

    def action_next_sound(self) -> None:
        """Point at the next sound."""
        self._point(1)

    def action_previous_sound(self) -> None:
        """Point at the sound before."""
        self._point(-1)

    def action_further(self) -> None:
        """Show the devices further down."""
        self.first_line += 1
        self.redraw()

    def action_from_top(self) -> None:
        """Show the devices from the first on."""
        self.first_line = 0
        self.redraw()

    def _point(self, by: int) -> None:
        self.pointed = (self.pointed + by) % len(SOUNDS)
        self.redraw()
