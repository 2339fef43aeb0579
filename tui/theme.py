"""The look: reds only, nine brightnesses, and every variable that a style could ask for."""

from __future__ import annotations

from functools import lru_cache

from textual.color import Color, ColorParseError
from textual.theme import Theme

from tui.red.colours import red_of_rgb

# Shares of the brightest red allowed, from barely seen by rested eyes to all of it. Own choice, by looking.
STEPS = (0.12, 0.17, 0.23, 0.31, 0.41, 0.53, 0.67, 0.83, 1.0)
BRIGHTNESSES = len(STEPS)
FIRST_BRIGHTNESS = 6
DARK = 0
# Text is never dimmer than this share of full text: what is dimmer only parts or fills.
HALF, LOW = 0.62, 0.3


def red_level(brightness: int, ceiling: int) -> int:
    """Return the brightest red at a brightness, 1 to 9, under a ceiling, 1 to 255."""
    return max(1, round(ceiling * STEPS[brightness - 1]))


def theme_name(brightness: int) -> str:
    """Return the name of the theme for a brightness."""
    return f"ember-{brightness}"


def red_theme(brightness: int, ceiling: int) -> Theme:
    """Return the theme for a brightness under a ceiling; `DARK` has no light at all."""
    level = 0 if brightness == DARK else red_level(brightness, ceiling)
    full, half, low, dark = (_red(level * share) for share in (1.0, HALF, LOW, 0.0))
    return Theme(
        name=theme_name(brightness),
        primary=full,
        secondary=half,
        warning=full,
        error=full,
        success=full,
        accent=full,
        foreground=full,
        background=dark,
        surface=dark,
        panel=dark,
        boost=dark,
        dark=True,
        variables={
            "full": full,
            "half": half,
            "low": low,
            "dark": dark,
            "input-cursor-background": full,
            "input-cursor-foreground": dark,
            "input-selection-background": low,
        },
    )


def reddened(variables: dict[str, str], level: int) -> dict[str, str]:
    """Return style variables with every colour among them red, also those that nobody here set."""
    return {name: _reddened_value(value, level) for name, value in variables.items()}


# The same two hundred values come again at every change of brightness, and twice before the first paint.
@lru_cache(maxsize=4096)
def _reddened_value(value: str, level: int) -> str:
    first, _, rest = value.partition(" ")
    if first == "auto":
        return f"{_red(level)} {rest}".strip()
    try:
        colour = Color.parse(first)
    except ColorParseError:
        return value
    if colour.ansi is not None:
        return _red(0 if "background" in value else level)
    red = Color(red_of_rgb(colour.rgb, level), 0, 0, colour.a)
    return f"{red.hex} {rest}".strip()


def _red(value: float) -> str:
    return f"#{round(value):02x}0000"
