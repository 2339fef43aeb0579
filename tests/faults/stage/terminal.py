"""The person's terminal: the real screen behind the real gate, every byte of it read, none waited for."""

from __future__ import annotations

import codecs
import os
import pty
import signal
import sys
import termios
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

import pyte

from tests.faults.evidence import Shown
from tests.faults.stage.moments import now_s, pause
from tests.faults.stage.seams import DEFECT
from tests.faults.stage.users import become_bench_user
from tests.tui.strict_terminal import StrictTerminal
from tests.tui.terminal_session import UNFINISHED, UNKNOWN

LEVEL = 150


class Terminal:
    """One terminal with the screen on it; ``faults`` tells what was not red, ``drawn`` how much was read."""

    def __init__(self, socket: Path, state: Path, environ: Mapping[str, str], log: list[Shown]) -> None:
        self.faults: list[str] = []
        self.drawn = 0
        program = "tests.faults.stage.bent_screen" if DEFECT in environ else "tui.cli"
        self._argv = [sys.executable, "-m", program, "--socket", str(socket), "--state", str(state)]
        self._argv += ["--level", str(LEVEL)]
        self._environ = {**environ, "TERM": "xterm-256color", "COLORTERM": "truecolor"}
        self._log = log
        self.pid = 0
        self.line = -1
        self.open()

    def open(self, rows: int = 24, columns: int = 80) -> None:
        """Begin a terminal of its own and start the screen on it."""
        self.screen = pyte.Screen(columns, rows)
        self._stream = pyte.Stream(self.screen)
        self._decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        self._strict = StrictTerminal(LEVEL)
        self._held = ""
        self.pid, self.line = pty.fork()
        if self.pid == 0:
            with suppress(BaseException):
                termios.tcsetwinsize(0, (rows, columns))
                os.closerange(3, 4096)
                become_bench_user()
                os.execvpe(self._argv[0], self._argv, self._environ)
            os._exit(126)
        os.set_blocking(self.line, False)

    def look(self) -> None:
        """Read what was written since."""
        if self.line < 0:
            return
        came = ""
        with suppress(BlockingIOError, OSError):
            while data := os.read(self.line, 1 << 16):
                came += self._decode(data)
        if came:
            self._take(came)

    def press(self, keys: str) -> None:
        with suppress(OSError):
            os.write(self.line, keys.encode())

    def resize(self, rows: int, columns: int) -> None:
        if self.line >= 0:
            self.screen.resize(rows, columns)
            termios.tcsetwinsize(self.line, (rows, columns))

    def hang_up(self) -> None:
        """Close the terminal under whatever runs on it, and wait for its end."""
        self._judge()
        if self.line >= 0:
            os.close(self.line)
            self.line = -1
        self._reap()

    def children(self) -> list[int]:
        """The processes behind the gate."""
        with suppress(OSError):
            told = Path(f"/proc/{self.pid}/task/{self.pid}/children").read_text(encoding="ascii")
            return [int(pid) for pid in told.split()]
        return []

    def is_up(self) -> bool:
        """Whether the screen's own program runs behind the gate."""
        return self.line >= 0 and bool(self.children())

    def text(self) -> str:
        return "\n".join(self.screen.display)

    def _take(self, came: str) -> None:
        self._strict.feed(came)
        text = self._held + came
        whole = next(UNFINISHED.finditer(text)).start()
        text, self._held = text[:whole], text[whole:]
        self._stream.feed(UNKNOWN.sub("", text))
        self._log.append(Shown(now_s(), self.text(), self.is_up()))

    def _judge(self) -> None:
        self.look()
        self.drawn += self._strict.drawn
        self.faults += self._strict.faults
        # Nobody in a session types the word for it.
        self.faults += ["the colours were given back"] if self._strict.released else []
        self._strict.faults = []
        self._strict.drawn = 0
        cells = [cell for row in self.screen.buffer.values() for cell in row.values()]
        shown = {colour for cell in cells for colour in (cell.fg, cell.bg)} - {"default"}
        self.faults += [f"a cell of {c}" for c in sorted(shown) if c[2:] != "0000" or int(c[:2], 16) > LEVEL]

    def _reap(self) -> None:
        due_s = now_s() + 8.0
        while self.pid:
            with suppress(ChildProcessError):
                if os.waitpid(self.pid, os.WNOHANG) != (0, 0):
                    break
            if now_s() > due_s:
                os.kill(self.pid, signal.SIGKILL)
            pause(0.01)
        self.pid = 0
