"""How bright each colour of a terminal is as red. Imports next to nothing: it is needed before all else."""

from __future__ import annotations

from firmware_py.craft.refusal import Refused

# The sixteen named colours as most terminals draw them (from memory); only their brightness is used.
NAMED = (
    (0, 0, 0),
    (205, 0, 0),
    (0, 205, 0),
    (205, 205, 0),
    (0, 0, 238),
    (205, 0, 205),
    (0, 205, 205),
    (229, 229, 229),
    (127, 127, 127),
    (255, 0, 0),
    (0, 255, 0),
    (255, 255, 0),
    (92, 92, 255),
    (255, 0, 255),
    (0, 255, 255),
    (255, 255, 255),
)
CUBE_STEPS = (0, 95, 135, 175, 215, 255)
CONSOLE_SHADES = 8


def checked_level(level: int) -> int:
    """Return the brightest red allowed, 1 to 255; raise `Refused` for anything else. Source: own."""
    if 1 <= level <= 255:
        return level
    raise Refused(f"{level} is no brightness of red", where="level", allowed="1 to 255")


def indexed_rgb(index: int) -> tuple[int, int, int]:
    """Return the usual colour behind one of the 256 indices (16 named, 6x6x6 cube, 24 greys)."""
    if index < 16:
        return NAMED[index]
    if index >= 232:
        grey = 8 + 10 * (index - 232)
        return grey, grey, grey
    cell = index - 16
    return CUBE_STEPS[cell // 36], CUBE_STEPS[cell // 6 % 6], CUBE_STEPS[cell % 6]


def red_of_rgb(rgb: tuple[int, int, int], level: int) -> int:
    """Return the red that is as bright as the colour ``rgb`` [0 to 255 each], no brighter than ``level``.

    A pure red keeps its value up to ``level``; any other colour is scaled by its luminance
    (weights of ITU-R BT.709, from memory). Source: own.
    """
    red, green, blue = (min(255, max(0, part)) for part in rgb)
    if green == blue == 0:
        return min(red, level)
    luminance = (2126 * red + 7152 * green + 722 * blue) / 10000
    return round(luminance * level / 255)


def console_shade(red: int, level: int) -> int:
    """Return which of the console's eight reds is nearest to ``red``."""
    return round(red * (CONSOLE_SHADES - 1) / level)


def cube_red(red: int, level: int) -> int:
    """Return the index, among a terminal's 256 colours, of the red of its cube that stands for ``red``.

    Black stays black; the dimmest red there is 95, and none is past ``level``.
    """
    allowed = [step for step in CUBE_STEPS if 0 < step <= level]
    if red <= 0 or not allowed:
        return 16
    nearest = min(allowed, key=lambda step: abs(step - red))
    return 16 + 36 * CUBE_STEPS.index(nearest)


def palette(level: int) -> list[int]:
    """Return the red of each of the 256 indices of a terminal's palette."""
    return [red_of_rgb(indexed_rgb(index), level) for index in range(256)]


def console_palette(level: int) -> list[int]:
    """Return the red of each of the console's sixteen indices: eight shades, the bright half the same.

    The bright half adds nothing, so that bold, which the console draws as bright, gains no light.
    """
    shades = [round(level * shade / (CONSOLE_SHADES - 1)) for shade in range(CONSOLE_SHADES)]
    return shades + shades
