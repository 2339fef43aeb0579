"""One colour of a pen, as red."""

from __future__ import annotations

from typing import NamedTuple

from tui.red.colours import red_of_rgb


class Ink(NamedTuple):
    """A brightness of red, and whether it was asked for as red: then no contrast is forced on it."""

    red: int
    meant: bool = True


def ink_of_rgb(rgb: tuple[int, int, int], level: int) -> Ink:
    """Return the red for a colour ``rgb`` [0 to 255 each], no brighter than ``level``. Source: own."""
    return Ink(red_of_rgb(rgb, level), meant=rgb[1] <= 0 and rgb[2] <= 0)
