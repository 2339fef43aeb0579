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

from tests.tui.strict_terminal import StrictTerminal

DEADLINE_S = 20.0
# The emulator prints what it does not know: the end of a keyboard protocol, and a console's palette.
UNKNOWN = re.compile(r"\x1b\[<\d*u|\x1b\]P.{7}|\x1b\]R")
UNFINISHED = re.compile(r"(?:\x1b(?:\[(?:<\d*)?|\](?:P.{0,6})?)?)?\Z")


class TerminalSession:
    """Starts ``argv`` on a terminal of its own and waits for what should come, never for a time to pass."""

    def __init__(self, *argv, level=120, size=(24, 80), term="xterm-256color", variables=None):
        self.screen = pyte.Screen(size[1], size[0])
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
            ready, _, _ = select.select([self.line], [], [], max(0.0, left_s))
            if not ready or not self._read():
                assert reached(), f"{what} never came; the screen shows:\n{self.shown()}"

    def until_shown(self, words: str) -> None:
        """Read until ``words`` stand on the screen."""
        self.until(lambda: words in self.shown(), repr(words))

    def until_written(self, words: str) -> None:
        """Read until ``words`` were written, even if they are gone again."""
        self.until(lambda: words in self.text, repr(words))

    def until_written_after(self, start: int, words: str) -> None:
        """Read until ``words`` were written after the first ``start`` characters."""
        self.until(lambda: words in self.text[start:], repr(words))

    def read_for(self, seconds: float) -> None:
        """Read whatever comes within ``seconds`` [s]: for a key that is pressed again and again."""
        due_s = time.monotonic() + seconds  # noqa: TID251 - see above
        while (left_s := due_s - time.monotonic()) > 0:  # noqa: TID251 - see above
            ready, _, _ = select.select([self.line], [], [], left_s)
            if ready and not self._read():
                return

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
        """All colours on the screen; 'default' is a cell that nobody has touched."""
        cells = [cell for row in self.screen.buffer.values() for cell in row.values()]
        return {colour for cell in cells for colour in (cell.fg, cell.bg)}

    def children(self) -> list[int]:
        """The processes started by the program."""
        told = Path(f"/proc/{self.pid}/task/{self.pid}/children").read_text(encoding="ascii")
        return [int(pid) for pid in told.split()]

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
