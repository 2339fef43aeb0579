"""The real terminal: taken into the red, written to, mended, and given back."""

from __future__ import annotations

import os
import select
import termios
import tty
from collections.abc import Mapping
from contextlib import suppress
from typing import Any

from firmware_py.craft.refusal import Refused
from tui.red.colours import cube_red
from tui.red.console_font import font_of
from tui.red.terminal import left_red, mended, own_screen, reddened, released

STDIN, STDOUT = 0, 1
# The dimmest red among the 256 colours that a multiplexer passes unchanged.
DIMMEST_OF_CUBE = 95
SHOW_CURSOR, HIDE_CURSOR = "\x1b[?25h", "\x1b[?25l"


def checked_kind(term: str) -> bool:
    """Return whether ``TERM`` names a kernel console; raise `Refused` if it can not be made red."""
    if not (os.isatty(STDIN) and os.isatty(STDOUT)):
        raise Refused("input and output must be a terminal to open the red screen", where="gate")
    if term in {"", "dumb", "unknown"} or term.startswith("vt"):
        raise Refused(
            f"TERM={term or '(none)'} has no colours that can be turned red",
            where="gate",
            allowed="a terminal with real colours, or the Linux console",
        )
    return term == "linux"


def checked_multiplexer(variables: Mapping[str, str], level: int, *, bar_is_hidden: bool) -> bool:
    """Return whether we run inside tmux or GNU screen, also over ssh, where TERM alone shows it.

    Raises `Refused` where the multiplexer's own bar may be in view, or no red of its 256 is dim enough.
    """
    term = variables.get("TERM", "")
    inside = bool(variables.get("TMUX") or variables.get("STY")) or term.startswith(("tmux", "screen"))
    if inside and not bar_is_hidden:
        raise Refused(
            "inside tmux or screen: its status bar and cursor are not red",
            where="gate",
            allowed="outside of it, or with its bar hidden (tmux set status off) and --bar-hidden",
        )
    if inside and level < DIMMEST_OF_CUBE:
        raise Refused(
            f"inside tmux or screen no red is dimmer than {DIMMEST_OF_CUBE}, and {level} is allowed",
            where="gate",
            allowed="outside of it",
        )
    return inside


class Terminal:
    """Standard input and output while the gate owns them."""

    def __init__(self, level: int, *, console: bool, cube: bool = False) -> None:
        self.level = level
        self.cube = cube
        self.console = console
        self.font = font_of(STDOUT) if console else None
        self.cooked = whole(termios.tcgetattr(STDIN))
        self.for_program = self.cooked

    def take(self, *, echo: bool, dark: bool) -> None:
        """Turn every colour red, open the gate's own screen, and read single keys from here on.

        Without ``echo`` a program's own terminal shows nothing typed before the program reads it: else that
        would be as bright as anything may be, whatever brightness the person has set.
        """
        self.for_program = self.cooked if echo else without_echo(self.cooked)
        tty.setraw(STDIN, termios.TCSADRAIN)
        screen = own_screen(console=self.console) + (HIDE_CURSOR if dark else "") + self._pen(dark=dark)
        # A multiplexer would make its own of a palette: greys, where the reds are dim.
        palette = "" if self.cube else reddened(self.level, console=self.console)
        if self.cube:
            screen += HIDE_CURSOR
        self.write(f"{palette}{screen}\x1b[2J\x1b[H".encode())

    def mend(self, *, clear: bool, dark: bool = False) -> None:
        """Put right what a program left behind, and clear its last picture if it was a whole screen.

        In the ``dark`` it is cleared in any case, and not even the cursor is shown.
        """
        wipe = "\x1b[2J\x1b[H" if clear or dark else "\r\n"
        mend = mended(console=self.console)
        if dark or self.cube:
            mend = mend.replace(SHOW_CURSOR, HIDE_CURSOR)
        self.write(f"{mend}{self._pen(dark=dark)}{wipe}".encode())

    def leave(self, *, gives_back: bool, dark: bool = False, words: str = "") -> None:
        """Restore the terminal as before `take`; its colours too if it ``gives_back``, else it stays red.

        In the ``dark`` even that red goes: what a shell writes next is black. ``words`` are then not said.
        """
        mend = mended(console=self.console)
        dark = dark and not gives_back
        if gives_back:
            last = released(console=self.console)
        elif dark:
            mend = mend.replace(SHOW_CURSOR, HIDE_CURSOR)
            last = left_red(console=self.console) + reddened(0, console=self.console)
        else:
            last = left_red(console=self.console)
        # Whatever fails of these, the others are done, and no traceback is written across the terminal.
        with suppress(Exception):
            self.write(f"{mend}{self._pen(dark=dark)}{last}".encode())
        with suppress(Exception):
            if words and not dark:
                from tui.red.rewriter import RedOnly

                red = RedOnly(self.level, console=self.console, cube=self.cube, font=self.font)
                self.write(red.feed_text(f"{words}\r\n").encode())
        with suppress(Exception):
            termios.tcsetattr(STDIN, termios.TCSADRAIN, self.cooked)

    def size(self) -> tuple[int, int]:
        """Return rows and columns."""
        return termios.tcgetwinsize(STDOUT)

    def write(self, data: bytes) -> None:
        """Write all of ``data``; a terminal that takes none holds the gate up, as it should."""
        while data:
            try:
                data = data[os.write(STDOUT, data) :]
            except BlockingIOError:
                select.select([], [STDOUT], [])
            except OSError:
                # The terminal is gone; the hang-up signal that comes with it ends the gate.
                return

    def _pen(self, *, dark: bool = False) -> str:
        if self.console:
            return f"\x1b[0;3{0 if dark else 7};40m"
        if self.cube:
            return f"\x1b[0;38;5;{16 if dark else cube_red(self.level, self.level)};48;5;16m"
        return f"\x1b[0;38;2;{0 if dark else self.level};0;0;48;2;0;0;0m"


def whole(attributes: list[Any]) -> list[Any]:
    """Return a terminal's attributes as a shell hands them on; a gate that was killed left others behind.

    A program that is started from a prompt always finds a terminal that echoes and takes lines.
    """
    incoming, outgoing, control, local, *rest = attributes
    if local & termios.ICANON and local & termios.ECHO:
        return attributes
    incoming |= termios.ICRNL | termios.IXON
    outgoing |= termios.OPOST | termios.ONLCR
    local |= termios.ISIG | termios.ICANON | termios.IEXTEN | termios.ECHO | termios.ECHOE | termios.ECHOK
    return [incoming, outgoing, control, local, *rest]


def without_echo(attributes: list[Any]) -> list[Any]:
    """Return a terminal's attributes with nothing shown of what is typed."""
    incoming, outgoing, control, local, *rest = attributes
    return [incoming, outgoing, control, local & ~(termios.ECHO | termios.ECHONL), *rest]
