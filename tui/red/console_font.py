"""What a kernel console can show: its font is asked, and what is not in it is drawn by a sign that is.

A console has 256 or 512 glyphs, and one blot for every character besides. The request and its answer:
console_ioctl(4), GIO_UNIMAP. What the fonts lack was read out of those that Debian ships, and out of the
table of the kernel's own (Linux, drivers/tty/vt/cp437.uni).
"""

from __future__ import annotations

import ctypes
import fcntl
import unicodedata
from collections.abc import Callable

GIO_UNIMAP = 0x4B66
MOST_PAIRS = 0xFFFF
# Printable ASCII and these are in every font that Debian ships, and in the kernel's own.
IN_EVERY_FONT = frozenset(map(chr, range(0x20, 0x7F))) | frozenset("←↑→↓•")
# These are in all of them but the six called Ethiopian-Goha.
IN_NEARLY_EVERY_FONT = IN_EVERY_FONT | frozenset("█░■─│°±")
# All else that the pages draw: each has a sign of one cell that every font has.
STAND_INS = {
    "▀": '"',
    "▄": "_",
    # Eighths of a cell: the ends of a bar that shows how far a page is turned.
    **dict.fromkeys("▁▂▃", "_"),
    **dict.fromkeys("▅▆▇▉▊▋▌", "#"),
    **dict.fromkeys("▍▎▏", "|"),
    "█": "#",
    "░": ":",
    "■": "#",
    "□": "o",
    "☐": "o",
    "○": "o",
    "►": ">",
    "─": "-",
    "│": "|",
    "·": ".",
    "…": "~",
    "°": "'",
    "±": "~",
    "²": "2",
    "×": "x",
    "−": "-",
    "–": "-",
    "—": "-",
    "μ": "u",
    "µ": "u",
    "′": "'",
    "″": '"',
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
}
UNKNOWN = "?"


class _Pair(ctypes.Structure):
    _fields_ = (("unicode", ctypes.c_ushort), ("place", ctypes.c_ushort))


class _Description(ctypes.Structure):
    _fields_ = (("count", ctypes.c_ushort), ("pairs", ctypes.POINTER(_Pair)))


def font_of(console: int) -> frozenset[str]:
    """Return what the console on a file descriptor can show.

    A line that is no console of this machine, as over ssh, cannot say: then what nearly every font can.
    """
    pairs = (_Pair * MOST_PAIRS)()
    told = _Description(MOST_PAIRS, pairs)
    try:
        fcntl.ioctl(console, GIO_UNIMAP, told)
    except (OSError, ValueError):
        return IN_NEARLY_EVERY_FONT
    found = frozenset(chr(pair.unicode) for pair in pairs[: told.count])
    return found | IN_EVERY_FONT


def shown_by(font: frozenset[str]) -> Callable[[str], str]:
    """Return what puts a sign of the font, or of every font, in the place of each that is not in it."""
    known: dict[str, str] = {}

    def sign(character: str) -> str:
        if character not in known:
            known[character] = character if character in font else _stand_in(character)
        return known[character]

    def shown(text: str) -> str:
        return text if text.isascii() else "".join(map(sign, text))

    return shown


def _stand_in(character: str) -> str:
    """Return signs of every font, in as many cells as the character fills: a letter without its accent."""
    if character in STAND_INS:
        return STAND_INS[character]
    if unicodedata.combining(character):
        return ""
    cells = 2 if unicodedata.east_asian_width(character) in "WF" else 1
    bare, *marks = list(unicodedata.normalize("NFKD", character))
    # A fraction is more than its first digit: rather no number than another one.
    is_letter = bare in IN_EVERY_FONT and bare.isalpha() and all(map(unicodedata.combining, marks))
    return (bare if is_letter else UNKNOWN).ljust(cells, UNKNOWN)
