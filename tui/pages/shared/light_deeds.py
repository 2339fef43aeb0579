"""What the keys do that make the screen brighter, darker or black."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from tui.pages.shared.dark_forms import screen_question
from tui.pages.shared.deeds import AtDesk
from tui.theme import BRIGHTNESSES

if TYPE_CHECKING:
    from tui.screen_light import ScreenLight


class LightDeeds(AtDesk):
    """The acts behind the keys for the screen's own light; the screen has the light and a clock [s]."""

    if TYPE_CHECKING:
        _light: ScreenLight
        _own_s: Callable[[], float]

    def action_brighter(self) -> None:
        """Make the screen brighter."""
        self._set_brightness(self._light.brightness + 1)

    def action_darker(self) -> None:
        """Make the screen darker."""
        self._set_brightness(self._light.brightness - 1)

    def _set_brightness(self, brightness: int) -> None:
        if self._light.set(brightness):
            # The top of a narrow page has no room for it once there are many relays.
            self.desk.say(f"Light {brightness} of {BRIGHTNESSES}")

    def action_light(self) -> None:
        """Light a black screen with the last of three presses; else make it black, once that is agreed to."""
        own_s, darkness = self._own_s(), self._light.darkness
        if self.desk.is_black:
            if darkness.press(own_s):
                self.desk.draw()
        elif not darkness.is_dim(own_s):
            self.desk.ask(screen_question(self._go_black))
        elif darkness.black_again():
            self.desk.draw()

    def _go_black(self) -> None:
        self._light.darkness.by_hand()
        self.desk.draw()
