"""The program behind the gate, on a pseudo-terminal of its own."""

from __future__ import annotations

import os
import signal
import termios
from collections.abc import Mapping, Sequence
from contextlib import suppress
from typing import Any, Literal, NoReturn

INPUT_LIMIT = 64 * 1024
NOT_FOUND = 127


class Child:
    """A running program: its output, its input, its size and its end; it inherits one file descriptor."""

    def __init__(
        self,
        argv: Sequence[str],
        environ: Mapping[str, str],
        size: tuple[int, int],
        attributes: list[Any],
        *,
        inherited: int,
    ) -> None:
        self.stopped_by = 0
        self.status: int | None = None
        self.waiting = b""
        self.line, inside = os.openpty()
        try:
            # Before there is a program: what is typed meanwhile would be echoed by a terminal not yet set.
            termios.tcsetattr(inside, termios.TCSANOW, attributes)
            termios.tcsetwinsize(inside, size)
            os.set_blocking(self.line, False)
            self.pid = os.fork()
            if self.pid == 0:
                os.set_inheritable(inherited, True)  # noqa: FBT003 - its own way to call
                _become(argv, environ, inside)
        finally:
            os.close(inside)

    def resize(self, size: tuple[int, int]) -> None:
        """Pass on the terminal's rows and columns; the kernel tells the program."""
        if self.line >= 0:
            termios.tcsetwinsize(self.line, size)

    def read(self) -> bytes:
        """Return what it wrote, or nothing at all; after its end the line is closed."""
        try:
            data = os.read(self.line, 64 * 1024)
        except BlockingIOError:
            return b""
        except OSError:
            data = b""
        if not data:
            self.close()
        return data

    def type(self, keys: bytes) -> None:
        """Hand keys over; they wait if it does not read, up to a limit."""
        self.waiting = (self.waiting + keys)[:INPUT_LIMIT]
        try:
            self.waiting = self.waiting[os.write(self.line, self.waiting) :]
        except BlockingIOError:
            return
        except OSError:
            self.waiting = b""

    def look(self) -> Literal["ended", "stopped"] | None:
        """Ask the system what became of it since; nothing may have."""
        if self.status is not None:
            return None
        pid, told = os.waitpid(self.pid, os.WNOHANG | os.WUNTRACED)
        if pid == 0:
            return None
        if os.WIFSTOPPED(told):
            self.stopped_by = os.WSTOPSIG(told)
            return "stopped"
        code = os.waitstatus_to_exitcode(told)
        self.status = 128 - code if code < 0 else code
        return "ended"

    def go_on(self) -> None:
        """Let it run again after it was stopped."""
        self.stopped_by = 0
        self.signal(signal.SIGCONT)
        # It was wiped off the terminal meanwhile: a new size is what makes any program paint itself.
        self.signal(signal.SIGWINCH)

    def signal(self, number: int) -> None:
        """Send it and all that it started on its terminal a signal, unless it has ended."""
        if self.status is None:
            with suppress(ProcessLookupError):
                os.killpg(self.pid, number)

    def close(self) -> None:
        """Close its terminal; what still runs there gets the hang-up signal from the kernel."""
        if self.line >= 0:
            os.close(self.line)
            self.line = -1


def _become(argv: Sequence[str], environ: Mapping[str, str], inside: int) -> NoReturn:
    try:
        os.login_tty(inside)
        os.execvpe(argv[0], list(argv), dict(environ))  # noqa: S606 - an argument list of our own, no shell
    except OSError as error:
        os.write(2, f"{argv[0]}: {error.strerror}\r\n".encode())
    finally:
        os._exit(NOT_FOUND)
