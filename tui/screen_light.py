"""How bright the screen is now: as the person set it, as dim as can be, or black; and what shows it so."""

from __future__ import annotations

from pathlib import Path

from textual.theme import Theme

from tui.darkness import Darkness
from tui.gate.dark import say_dark, say_light
from tui.light import remember, remembered
from tui.red_filter import BlackFilter, RedFilter
from tui.theme import BRIGHTNESSES, DARK, red_level, red_theme, theme_name


class ScreenLight:
    """The brightness of the screen under a ``ceiling`` of red, kept in the folder ``state``."""

    def __init__(self, state: Path, ceiling: int, *, begins_dark: bool = False) -> None:
        self.brightness = remembered(state)
        self.darkness = Darkness(begins=begins_dark)
        self._state = state
        self.ceiling = ceiling
        self._shown = DARK if begins_dark else self.brightness
        self.filter = self._filter()

    @property
    def is_black(self) -> bool:
        """Get whether nothing at all is shown."""
        return self._shown == DARK

    @property
    def theme(self) -> str:
        """Get the name of the theme for the light of now."""
        return theme_name(self._shown)

    def themes(self) -> list[Theme]:
        """Return the themes of all brightnesses, darkness among them."""
        return [red_theme(brightness, self.ceiling) for brightness in range(DARK, BRIGHTNESSES + 1)]

    def set(self, brightness: int) -> bool:
        """Set the brightness and remember it; return whether there is such a one."""
        if not 1 <= brightness <= BRIGHTNESSES:
            return False
        self.brightness = brightness
        remember(brightness, self._state)
        return True

    def mind(self, now_s: float) -> bool:
        """Make the light what it has to be at ``now_s`` [s], and tell the gate; return whether it changed."""
        black, dim = self.darkness.is_black(now_s), self.darkness.is_dim(now_s)
        light = DARK if black else 1 if dim else self.brightness
        if light == self._shown:
            return False
        self._shown = light
        self.filter = self._filter()
        (say_dark if black else say_light)(self._state)
        return True

    def _filter(self) -> RedFilter:
        return BlackFilter() if self.is_black else RedFilter(red_level(self._shown, self.ceiling))
