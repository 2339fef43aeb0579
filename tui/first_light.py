"""Asks once, at the first start, how bright the screen is to be: by a picture, before anything else is shown.

It stands behind the gate and writes reds only, none past the ceiling. Nothing is asked where the screen has
to stay dark, where a brightness is remembered, or where nobody sits at a terminal.
"""

from __future__ import annotations

import os
import sys
import termios
import tty
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from tui.light import LIGHT_FILE, remember
from tui.theme import BRIGHTNESSES, FIRST_BRIGHTNESS, half_level, red_level

SAMPLE = "Develop 6:30  18.5 °C"
ASKED = "How bright is this screen to be?"
HOW = "Press the number of the dimmest line that you read easily at one metre; + and - step; Enter keeps it."
LATER = "+ and - change it at any time."
ENTER, LEAVE = ("\r", "\n"), ("\x1b", "\x03", "\x04", "")


def ask_at_first_start(state: Path, ceiling: int, *, is_dark: Callable[[], bool]) -> None:
    """Ask for the brightness and remember it in the folder ``state``, where none is remembered there yet.

    Whoever leaves without an answer is asked again at the next start.
    """
    if (state / LIGHT_FILE).exists() or not sys.stdin.isatty() or is_dark():
        return
    with _key_by_key():
        chosen = chosen_by(_keys(), lambda brightness: _show(picture(brightness, ceiling)))
    _show("")
    if chosen is not None:
        remember(chosen, state)


def chosen_by(keys: Iterator[str], show: Callable[[int], None]) -> int | None:
    """Return the brightness that a person keeps, showing each on the way; None where he leaves it."""
    brightness = FIRST_BRIGHTNESS
    show(brightness)
    for key in keys:
        if key in LEAVE:
            return None
        if key in ENTER:
            return brightness
        if key.isdecimal() and key.isascii() and key != "0":
            brightness = int(key)
        elif key in "+=-":
            brightness = min(BRIGHTNESSES, max(1, brightness + (-1 if key == "-" else 1)))
        else:
            continue
        show(brightness)
    return None


def picture(brightness: int, ceiling: int) -> str:
    """Return the test picture: a line in each brightness, and the words in the one that is chosen."""
    level = red_level(brightness, ceiling)
    lines = [_red(ASKED, level, bold=True), _red(HOW, level), ""]
    for number in range(1, BRIGHTNESSES + 1):
        full = red_level(number, ceiling)
        mark = "►" if number == brightness else " "
        lines.append(_red(f" {mark} {number}  {SAMPLE}", full) + _red("  labels and keys", half_level(full)))
    return "\r\n".join([*lines, "", _red(LATER, level)])


def _red(words: str, level: int, *, bold: bool = False) -> str:
    return f"\x1b[0;{'1;' if bold else ''}38;2;{level};0;0;48;2;0;0;0m{words}"


def _show(words: str) -> None:
    sys.stdout.write(f"\x1b[2J\x1b[H{words}")
    sys.stdout.flush()


def _keys() -> Iterator[str]:
    while True:
        yield os.read(sys.stdin.fileno(), 1).decode("ascii", "replace")


@contextmanager
def _key_by_key() -> Iterator[None]:
    """Have keys come one by one and unseen, while this lasts."""
    number = sys.stdin.fileno()
    before = termios.tcgetattr(number)
    tty.setraw(number)
    try:
        yield
    finally:
        termios.tcsetattr(number, termios.TCSADRAIN, before)
