"""How bright the screen is now: as the person set it, as dim as can be, or black; and what shows it so."""

from __future__ import annotations

from pathlib import Path

from textual.theme import Theme

from firmware_py.settings.screen import ScreenSection
from tui.backlight import Backlight
from tui.blanking import Blanking
from tui.darkness import Darkness
from tui.gate.dark import say_dark, say_light
from tui.light import remember, remembered
from tui.red_filter import BlackFilter, RedFilter
from tui.theme import BRIGHTNESSES, DARK, STEPS, red_level, red_theme, theme_name


class ScreenLight:
    """The brightness of the screen under a ``ceiling`` of red, kept in the folder ``state``."""

    def __init__(
        self, state: Path, ceiling: int, *, begins_dark: bool = False, rule: ScreenSection | None = None
    ) -> None:
        rule = rule or ScreenSection()
        self.brightness = remembered(state)
        self.tested = rule.tested or ""
        self.blanking = Blanking(
            None if rule.blank_after is None else float(rule.blank_after), always=rule.blank == "always"
        )
        self.trouble = ""
        self._backlight = Backlight(Path(rule.backlight), rule.backlight_most) if rule.backlight else None
        self.darkness = Darkness(begins=begins_dark)
        self._state = state
        self.ceiling = ceiling
        self._shown = DARK if begins_dark else self.brightness
        self.filter = self._lit()

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

    def wakes(self, now_s: float) -> bool:
        """Take in that a key was pressed; return whether it wakes an idle screen, and does nothing else."""
        slept = self.blanking.is_black and not self.darkness.is_black(now_s)
        self.blanking.wake(now_s)
        return slept

    def mind(self, now_s: float) -> bool:
        """Make the light what it has to be at ``now_s`` [s], and tell the gate; return whether it changed."""
        black, dim = self.darkness.is_black(now_s), self.darkness.is_dim(now_s)
        light = DARK if black or self.blanking.is_black else 1 if dim else self.brightness
        if light == self._shown:
            return False
        self._shown = light
        self.filter = self._lit()
        (say_dark if black else say_light)(self._state)
        return True

    def _lit(self) -> RedFilter:
        """Set the panel, and return the filter for it: a panel brighter than asked gets a darker picture."""
        darkened = 1.0
        if self._backlight is not None:
            share = 0.0 if self.is_black else STEPS[self._shown - 1]
            darkened, self.trouble = self._backlight.set(share)
        if self.is_black:
            return BlackFilter()
        return RedFilter(max(1, round(red_level(self._shown, self.ceiling) * darkened)))
