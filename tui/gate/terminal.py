"""The real terminal: taken into the red, written to, mended, and given back."""

from __future__ import annotations

import os
import select
import termios
import tty

from firmware_py.craft.refusal import Refused
from tui.red.terminal import left_red, mended, own_screen, reddened, released

STDIN, STDOUT = 0, 1
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


class Terminal:
    """Standard input and output while the gate owns them."""

    def __init__(self, level: int, *, console: bool) -> None:
        self.level = level
        self.console = console
        self.keep_red = False
        self.cooked = termios.tcgetattr(STDIN)

    def take(self) -> None:
        """Turn every colour red, open the gate's own screen, and read single keys from here on."""
        tty.setraw(STDIN, termios.TCSADRAIN)
        screen = own_screen(console=self.console)
        self.write(f"{reddened(self.level, console=self.console)}{screen}{self._pen()}\x1b[2J\x1b[H".encode())

    def mend(self, *, clear: bool, dark: bool = False) -> None:
        """Put right what a program left behind, and clear its last picture if it was a whole screen.

        In the ``dark`` it is cleared in any case, and not even the cursor is shown.
        """
        wipe = "\x1b[2J\x1b[H" if clear or dark else "\r\n"
        mend = mended(console=self.console)
        if dark:
            mend = mend.replace(SHOW_CURSOR, HIDE_CURSOR)
        self.write(f"{mend}{self._pen()}{wipe}".encode())

    def give_back(self) -> None:
        """Restore the terminal as it was before `take`; its colours too, unless it must stay red."""
        last = left_red if self.keep_red else released
        mend = mended(console=self.console)
        self.write(f"{mend}{self._pen()}{last(console=self.console)}".encode())
        try:
            termios.tcsetattr(STDIN, termios.TCSADRAIN, self.cooked)
        except termios.error:
            return

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

    def _pen(self) -> str:
        if self.console:
            return "\x1b[0;37;40m"
        return f"\x1b[0;38;2;{self.level};0;0;48;2;0;0;0m"
