"""The sequences that take a terminal into the red, mend it after a death, and give it back."""

from __future__ import annotations

from tui.red.colours import console_palette, palette

# Beside its palette: foreground, background, cursor, pointer (two), selection (two).
DEFAULTS = {10: 1, 11: 0, 12: 1, 13: 1, 14: 0, 17: 1, 19: 0}
MOUSE_AND_OTHERS = ["1000", "1002", "1003", "1004", "1006", "1015", "1016", "2004", "2026", "2048"]


def reddened(level: int, *, console: bool) -> str:
    """Return what makes palette and default colours red, so that cells nobody writes are dark too."""
    if console:
        entries = enumerate(console_palette(level))
        return "".join(f"\x1b]P{index:X}{red:02x}0000" for index, red in entries)
    # One pair a sequence: some terminals read only the first of several.
    indexed = "".join(f"\x1b]4;{index};{_rgb(red)}\x1b\\" for index, red in enumerate(palette(level)))
    return indexed + "".join(f"\x1b]{code};{_rgb(level * lit)}\x1b\\" for code, lit in DEFAULTS.items())


def own_screen(*, console: bool) -> str:
    """Return what opens the gate's own screen; a console has but one."""
    return "" if console else "\x1b[?1049h"


def mended(*, console: bool) -> str:
    """Return what puts right the modes that a killed program leaves behind; colours are not touched."""
    modes = "".join(f"\x1b[?{mode}l" for mode in MOUSE_AND_OTHERS)
    common = f"{modes}\x1b[?1l\x1b[?7h\x1b[4l\x1b[r\x1b(B\x1b[?25h"
    # The keyboard protocol keeps a stack: take off more than a program would have laid on.
    return common if console else common + "\x1b[<9u\x1b[0 q"


def released(*, console: bool) -> str:
    """Return what gives a terminal its own colours and its own screen back."""
    if console:
        return "\x1b[2J\x1b[H\x1b[0m\x1b]R"
    defaults = "".join(f"\x1b]{100 + code}\x1b\\" for code in DEFAULTS)
    return f"\x1b[2J\x1b[H\x1b[?1049l\x1b[0m\x1b]104\x1b\\{defaults}"


def left_red(*, console: bool) -> str:
    """Return what gives the screen back but keeps the colours red, for a gate that was told to end."""
    return "\x1b[2J\x1b[H" if console else "\x1b[2J\x1b[H\x1b[?1049l"


def _rgb(red: int) -> str:
    return f"rgb:{red:02x}/00/00"
