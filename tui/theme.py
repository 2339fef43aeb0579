"""The look: reds only, nine brightnesses, and every variable that a style could ask for."""

from __future__ import annotations

from functools import lru_cache

from textual.color import Color, ColorParseError
from textual.theme import Theme

from tui.red.colours import red_of_rgb

# Shares of the most light: of a panel, and of a red whose ceiling is too low to read well by. Own choice.
STEPS = (0.12, 0.17, 0.23, 0.31, 0.41, 0.53, 0.67, 0.83, 1.0)
BRIGHTNESSES = len(STEPS)
FIRST_BRIGHTNESS = 6
DARK = 0
# From this brightness on, labels are readable away from full dark; below, for eyes that are rested.
READABLE_FROM = 3
# The dimmest red that has a contrast of 3:1 with black by the formula of WCAG 2.1: 183 has 3.01:1. Worked.
READABLE_RED = 183
# The two brightnesses below it, as shares of the ceiling. Own choice, by looking.
RESTED_STEPS = (0.12, 0.35)
# Labels beside the full red, where there is light enough to tell the two apart.
HALF = 0.62


def red_level(brightness: int, ceiling: int) -> int:
    """Return the brightest red at a brightness, 1 to 9, under a ceiling, 1 to 255.

    From `READABLE_FROM` on it lies between `READABLE_RED` and the ceiling. Under a lower ceiling no red has a
    contrast of 3:1: there it is a share of the ceiling.
    """
    if ceiling < READABLE_RED:
        return max(1, round(ceiling * STEPS[brightness - 1]))
    if brightness < READABLE_FROM:
        return max(1, round(ceiling * RESTED_STEPS[brightness - 1]))
    share = (brightness - READABLE_FROM) / (BRIGHTNESSES - READABLE_FROM)
    return round(READABLE_RED + (ceiling - READABLE_RED) * share)


def half_level(level: int) -> int:
    """Return the red of labels beside a full red of ``level``: less of it, where that can still be read."""
    return max(round(level * HALF), min(level, READABLE_RED))


def theme_name(brightness: int) -> str:
    """Return the name of the theme for a brightness."""
    return f"ember-{brightness}"


def red_theme(brightness: int, ceiling: int) -> Theme:
    """Return the theme for a brightness under a ceiling; `DARK` has no light at all."""
    level = 0 if brightness == DARK else red_level(brightness, ceiling)
    full, half, dark = _red(level), _red(half_level(level)), _red(0)
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
            "dark": dark,
            "input-cursor-background": full,
            "input-cursor-foreground": dark,
            "input-selection-background": half,
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
