"""How the terminal would draw the next character: what its sequences ask for, told in reds only."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from tui.red.colours import console_shade, cube_red, indexed_rgb
from tui.red.ink import Ink, ink_of_rgb

# Two colours of equal brightness become one red: below this share of the level, text is set off by force.
CONTRAST_FLOOR = 0.35
PARTS_LIMIT = 64

ON = {1: "bold", 2: "dim", 3: "italic", 4: "underline", 7: "reverse", 9: "struck", 21: "underline"}
OFF = {
    22: ("bold", "dim"),
    23: ("italic",),
    24: ("underline",),
    27: ("reverse",),
    29: ("struck",),
}


class Pen(NamedTuple):
    """Foreground, background and manner of the next character."""

    fg: Ink
    bg: Ink
    bold: bool = False
    dim: bool = False
    italic: bool = False
    underline: bool = False
    struck: bool = False
    reverse: bool = False


class PenBox:
    """Hands out pens for one brightness, and the one sequence that sets a pen in full.

    ``console`` speaks to a kernel console: eight shades by palette, and none of the manners that
    such a console draws in colours of its own. ``cube`` speaks to a multiplexer, which makes greys of dim
    reds that are not among its 256 colours: only the reds of their cube.
    """

    def __init__(self, level: int, *, console: bool = False, cube: bool = False) -> None:
        self.level = level
        self.console = console
        self.cube = cube
        self.plain = Pen(Ink(level), Ink(0))
        self.black = "\x1b[0;30;40m" if console else "\x1b[0;38;2;0;0;0;48;2;0;0;0m"
        if cube:
            self.black = "\x1b[0;38;5;16;48;5;16m"
        self._changed: dict[tuple[Pen, str], Pen] = {}
        self._said: dict[Pen, str] = {}

    def changed(self, pen: Pen, params: str) -> Pen:
        """Return what ``pen`` becomes under the parameters of an SGR sequence."""
        key = (pen, params)
        found = self._changed.get(key)
        if found is None:
            if len(self._changed) > 4000:
                self._changed.clear()
            found = self._changed[key] = self._apply(pen, params)
        return found

    def say(self, pen: Pen) -> str:
        """Return the sequence that sets ``pen``, both colours explicit, whatever was set before."""
        found = self._said.get(pen)
        if found is None:
            if len(self._said) > 4000:
                self._said.clear()
            found = self._said[pen] = self._spell(pen)
        return found

    def _apply(self, pen: Pen, params: str) -> Pen:
        fields = iter(params.split(";", PARTS_LIMIT)[:PARTS_LIMIT])
        for field in fields:
            code, *rest = _numbers(field)
            if code in {38, 48, 58}:
                colour = self._extended(rest, fields)
                pen = _coloured(pen, code, colour)
            else:
                pen = self._plain_code(pen, code, rest)
        return pen

    def _plain_code(self, pen: Pen, code: int, rest: list[int]) -> Pen:
        if code == 0:
            return self.plain
        if code == 4 and rest[:1] == [0]:
            return pen._replace(underline=False)
        if code in ON:
            return _with_manner(pen, (ON[code],), on=True)
        if code in OFF:
            return _with_manner(pen, OFF[code], on=False)
        if code in {39, 49}:
            return pen._replace(fg=self.plain.fg) if code == 39 else pen._replace(bg=self.plain.bg)
        return self._named(pen, code)

    def _named(self, pen: Pen, code: int) -> Pen:
        for first, index in ((30, 0), (40, 0), (90, 8), (100, 8)):
            if first <= code < first + 8:
                ink = ink_of_rgb(indexed_rgb(code - first + index), self.level)
                return pen._replace(bg=ink) if first in {40, 100} else pen._replace(fg=ink)
        return pen

    def _extended(self, rest: list[int], fields: Iterator[str]) -> Ink | None:
        kind, values = (rest[0], rest[1:]) if rest else (_next_number(fields), [])
        if kind == 5:
            index = values[0] if values else _next_number(fields)
            return ink_of_rgb(indexed_rgb(min(255, index)), self.level)
        if kind == 2:
            # With colons, a colour space may stand before the three parts.
            parts = values[-3:] if len(values) == 3 else values[1:4]
            if not rest:
                parts = [_next_number(fields) for _ in range(3)]
            return ink_of_rgb((parts[0], parts[1], parts[2]), self.level) if len(parts) == 3 else None
        return None

    def _spell(self, pen: Pen) -> str:
        fg, bg = self._reds(pen)
        if self.console:
            manner = "1;" if pen.bold else ""
            shades = console_shade(fg, self.level), console_shade(bg, self.level)
            return f"\x1b[0;{manner}3{shades[0]};4{shades[1]}m"
        manner = "".join(
            f"{code};"
            for code, on in ((1, pen.bold), (3, pen.italic), (4, pen.underline), (9, pen.struck))
            if on
        )
        if self.cube:
            return f"\x1b[0;{manner}38;5;{cube_red(fg, self.level)};48;5;{cube_red(bg, self.level)}m"
        return f"\x1b[0;{manner}38;2;{fg};0;0;48;2;{bg};0;0m"

    def _reds(self, pen: Pen) -> tuple[int, int]:
        fg = pen.fg.red * 3 // 5 if pen.dim else pen.fg.red
        bg = pen.bg.red
        meant = pen.fg.meant and pen.bg.meant
        if not meant and abs(fg - bg) < CONTRAST_FLOOR * self.level:
            fg = self.level if 2 * bg < self.level else 0
        # Reverse video is spelled out: the terminal is never asked to swap anything itself.
        return (bg, fg) if pen.reverse else (fg, bg)


def _with_manner(pen: Pen, names: tuple[str, ...], *, on: bool) -> Pen:
    fields: dict[str, Any] = dict.fromkeys(names, on)
    return pen._replace(**fields)


def _coloured(pen: Pen, code: int, colour: Ink | None) -> Pen:
    if colour is None or code == 58:
        return pen
    return pen._replace(fg=colour) if code == 38 else pen._replace(bg=colour)


def _numbers(field: str) -> list[int]:
    return [_number(part) for part in field.split(":", PARTS_LIMIT)]


def _number(text: str) -> int:
    return int(text) if text.isdecimal() and text.isascii() and len(text) < 5 else 0


def _next_number(fields: Iterator[str]) -> int:
    return _number(next(fields, ""))
