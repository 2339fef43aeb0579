"""A real pseudo-terminal with a program on it: every byte is read by an emulator and by the strict reader."""

from __future__ import annotations

import codecs
import os
import pty
import re
import select
import signal
import sys
import termios
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pyte

from tests.tui.rest import work_of
from tests.tui.strict_terminal import StrictTerminal

# Only a failing test waits so long: two busy processors must not make one of a sound program.
DEADLINE_S = 45.0
# Whoever waits for a process to end gets no byte for it: look at least so often.
GLANCE_S = 0.05
# The screen gathers what has changed for 1/60 s before it draws: who rests longer has drawn it all.
REST_S = 0.04
# The emulator prints what it does not know: the end of a keyboard protocol, and a console's palette.
UNKNOWN = re.compile(r"\x1b\[<\d*u|\x1b\]P.{7}|\x1b\]R")
UNFINISHED = re.compile(r"(?:\x1b(?:\[(?:<\d*)?|\](?:P.{0,6})?)?)?\Z")


class InkedScreen(pyte.Screen):
    """An emulator that keeps every colour that was ever set, however soon it was drawn over."""

    def __init__(self, columns: int, lines: int) -> None:
        self.inked: set[str] = set()
        super().__init__(columns, lines)

    def select_graphic_rendition(self, *attributes: int, **more: bool) -> None:
        super().select_graphic_rendition(*attributes, **more)
        self.inked |= {self.cursor.attrs.fg, self.cursor.attrs.bg}


class TerminalSession:
    """Starts ``argv`` on a terminal of its own and waits for what should come, never for a time to pass."""

    def __init__(self, *argv, level=120, size=(24, 80), term="xterm-256color", variables=None):
        self.screen = InkedScreen(size[1], size[0])
        self._stream = pyte.Stream(self.screen)
        self._decode = codecs.getincrementaldecoder("utf-8")().decode
        self.strict = StrictTerminal(level, console=term == "linux")
        self.text = ""
        self._held = ""
        self.status = None
        environ = {**os.environ, "TERM": term, "COLORTERM": "truecolor", **(variables or {})}
        self.pid, self.line = pty.fork()
        if self.pid == 0:
            with suppress(BaseException):
                termios.tcsetwinsize(0, size)
                os.execvpe(argv[0], argv, environ)
            os._exit(126)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.status is None:
            os.kill(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)
        os.close(self.line)

    def until(self, reached: Callable[[], bool], what: str) -> None:
        """Read until ``reached`` is true; fail with the screen as it is when that takes too long."""
        due_s = time.monotonic() + DEADLINE_S  # noqa: TID251 - the deadline of a test, no part of the program
        while not reached():
            left_s = due_s - time.monotonic()  # noqa: TID251 - see above
            if self._read_within(min(GLANCE_S, left_s)) is False or left_s <= 0:
                assert reached(), f"{what} never came; the screen shows:\n{self.shown()}"

    def settle(self) -> None:
        """Read all that was written, until the programs on this terminal rest with nothing left to draw."""
        due_s = time.monotonic() + DEADLINE_S  # noqa: TID251 - see above
        while self.status is None:
            assert time.monotonic() < due_s, "the programs never came to rest"  # noqa: TID251 - see above
            before = work_of(self.pid)
            read = self._read_within(REST_S)
            if read is False or (read is None and before is not None and work_of(self.pid) == before):
                return

    def until_shown(self, words: str) -> None:
        """Read until ``words`` stand on the screen."""
        self.until(lambda: words in self.shown(), repr(words))

    def until_written(self, words: str) -> None:
        """Read until ``words`` were written, even if they are gone again."""
        self.until(lambda: words in self.text, repr(words))

    def until_written_after(self, start: int, words: str) -> None:
        """Read until ``words`` were written after the first ``start`` characters."""
        self.until(lambda: words in self.text[start:], repr(words))

    def until_gone(self, words: str) -> None:
        """Read until ``words`` no longer stand on the screen."""
        self.until(lambda: words not in self.shown(), f"the end of {words!r}")

    def until_ended(self) -> int:
        """Read to the end and return the exit status."""
        while self._read():
            pass
        self.status = os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])
        return self.status

    def press(self, keys: str) -> None:
        """Type ``keys``."""
        os.write(self.line, keys.encode())

    def resize(self, rows: int, columns: int) -> None:
        """Make the terminal another size."""
        self.screen.resize(rows, columns)
        termios.tcsetwinsize(self.line, (rows, columns))

    def shown(self) -> str:
        """The screen as text."""
        return "\n".join(self.screen.display)

    def colours(self) -> set[str]:
        """All colours that were ever set; 'default' is a cell that nobody has touched."""
        cells = [cell for row in self.screen.buffer.values() for cell in row.values()]
        return self.screen.inked | {colour for cell in cells for colour in (cell.fg, cell.bg)}

    def children(self) -> list[int]:
        """The processes started by the program."""
        told = Path(f"/proc/{self.pid}/task/{self.pid}/children").read_text(encoding="ascii")
        return [int(pid) for pid in told.split()]

    def _read_within(self, seconds: float) -> bool | None:
        """Read what comes within ``seconds`` [s]; None if nothing did, False at the end of all."""
        ready, _, _ = select.select([self.line], [], [], max(0.0, seconds))
        return self._read() if ready else None

    def _read(self) -> bool:
        try:
            data = os.read(self.line, 65536)
        except OSError:
            return False
        text = self._decode(data)
        self.text += text
        self.strict.feed(text)
        self._emulate(text)
        return bool(data)

    def _emulate(self, text: str) -> None:
        text = self._held + text
        whole = next(UNFINISHED.finditer(text)).start()
        text, self._held = text[:whole], text[whole:]
        self._stream.feed(UNKNOWN.sub("", text))


def python(code: str) -> tuple[str, ...]:
    """The command that runs ``code``."""
    return (sys.executable, "-c", code)
