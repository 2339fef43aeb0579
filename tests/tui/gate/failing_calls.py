"""Every call of the gate is made to fail, in every state: ``python -m tests.tui.gate.failing_calls``.

The calls are not listed here: the interpreter tells each one that the gate's own code makes, in which state
of two plays, one lit and one in the dark. Then each is made to raise in a play of its own.
"""

from __future__ import annotations

import codecs
import fcntl
import mmap
import os
import pickle
import pty
import re
import select
import signal
import struct
import sys
import tempfile
import termios
import traceback
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from pathlib import Path

import tui.gate
from tests.tui.rest import work_of
from tests.tui.strict_terminal import StrictTerminal
from tests.tui.terminal_session import REST_S
from tests.tui.unlit import lights
from tui.gate.dark import say_dark

LEVEL = 120
GATE = str(Path(tui.gate.__file__).parent)
PROGRAM = r"printf '\033[?1049h\033[32mpage\033]0;up\033\\'; read line; exit 7"
UP = "]0;up\x1b\\"
NOT_YET = "NOT YET: still open"
# What is raised: what the gate expects of a system call, and what nobody expects.
ERRORS = {"OSError": OSError(5, "made to fail"), "RuntimeError": RuntimeError("made to fail")}
# The methods of these ask nothing of the system.
NEVER_FAIL = (str, bytes, list, dict, set, type, re.Pattern, re.Match)
# A call, told by file, line and name, in a state: the number of the step that was last begun.
Site = tuple[str, int, str, int]


class Gated:
    """The gate in a process of its own, its ``site`` made to raise; it tells the sites that it passed."""

    def __init__(self, folder: Path, *, dark: bool, site: Site | None = None, error: str = "OSError") -> None:
        self.text, self.ended = "", False
        self.strict = StrictTerminal(LEVEL)
        self._decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        self._step = mmap.mmap(-1, 1)
        self._told = folder / "sites"
        if dark:
            say_dark(folder)
        self.pid, self.line = pty.fork()
        if self.pid == 0:
            with suppress(BaseException):
                self._be_gate(folder, site, error)
            os._exit(9)

    def play(self, steps: list[tuple[Callable[[Gated], None], str]]) -> None:
        """Take each step, and read until what it brings about was written; or until the gate has ended."""
        for number, (act, words) in enumerate(steps):
            self._step[0] = number
            start = len(self.text)
            if not self.ended:
                with suppress(ProcessLookupError, IndexError):  # there may be no program any more
                    act(self)
            self._read_until(partial(self._is_written, words, start))

    def _is_written(self, words: str, start: int) -> bool:
        return bool(words) and words in self.text[start:]

    def sites(self) -> list[Site]:
        sites: list[Site] = pickle.loads(self._told.read_bytes())
        return sites

    def press(self, keys: bytes) -> None:
        with suppress(OSError):
            os.write(self.line, keys)

    def child(self) -> int:
        told = Path(f"/proc/{self.pid}/task/{self.pid}/children").read_text(encoding="ascii")
        return int(told.split()[0])

    def close(self) -> None:
        with suppress(ProcessLookupError):
            os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.line)

    def _read_until(self, reached: Callable[[], object]) -> None:
        """Read until something was written; or until all rest: a call that failed may lead another way."""
        while not self.ended and not reached():
            before = work_of(self.pid)
            if select.select([self.line], [], [], REST_S)[0]:
                self._read()
            elif before is not None and work_of(self.pid) == before:
                return

    def _read(self) -> None:
        try:
            text = self._decode(os.read(self.line, 65536))
        except OSError:
            text = ""
        self.ended = not text
        self.text += text
        self.strict.feed(text)

    def _be_gate(self, folder: Path, site: Site | None, error: str) -> None:
        os.environ["TERM"] = "xterm-256color"
        passed: dict[Site, None] = {}

        def noted(frame, event, arg):
            asks = frame if event == "c_call" else frame.f_back
            if event not in {"c_call", "call"} or asks is None or GATE not in asks.f_code.co_filename:
                return
            if event == "c_call" and isinstance(getattr(arg, "__self__", None), NEVER_FAIL):
                return
            name = arg.__name__ if event == "c_call" else frame.f_code.co_name
            if not passed and name != "take":
                return  # the terminal is its owner's yet, in his colours
            here = (asks.f_code.co_filename, asks.f_lineno, name, self._step[0])
            passed[here] = None
            if here == site:
                raise ERRORS[error]

        sys.setprofile(noted)
        try:
            tui.gate.run(["/bin/sh", "-c", PROGRAM], level=LEVEL, state=folder, still_open=lambda: NOT_YET)
        except BaseException:  # noqa: BLE001 - as the interpreter itself would tell it
            traceback.print_exc()
        finally:
            sys.setprofile(None)
            self._told.write_bytes(pickle.dumps(list(passed)))


def kill(number: signal.Signals) -> Callable[[Gated], None]:
    return lambda on: os.kill(on.child(), number)


def press(keys: bytes) -> Callable[[Gated], None]:
    return lambda on: on.press(keys)


def resize_and_stop(on: Gated) -> None:
    fcntl.ioctl(on.line, termios.TIOCSWINSZ, struct.pack("4H", 36, 120, 0, 0))
    kill(signal.SIGSTOP)(on)


def end(on: Gated) -> None:
    os.kill(on.pid, signal.SIGTERM)


LIT = [
    (lambda _: None, UP),
    (resize_and_stop, "stopped by signal"),
    (press(b" "), "\x1b[2J"),
    (kill(signal.SIGKILL), "ended by signal 9"),
    (press(b"dalyight\r"), "another word"),
    (press(b" "), UP),
    (press(b"Q\r"), "exit status 7"),
    (press(b"daylight\r"), NOT_YET),
    (end, ""),
]
DARK = [
    (lambda _: None, UP),
    (kill(signal.SIGKILL), "\x1b[2J"),
    (press(b"x\r"), UP),
    (end, ""),
]


def told(folder: Path, *, dark: bool) -> list[Site]:
    on = Gated(folder, dark=dark)
    try:
        on.play(DARK if dark else LIT)
        assert on.ended
        return on.sites()
    finally:
        on.close()


def wrong(folder: Path, site: Site, error: str, *, dark: bool) -> list[str]:
    on = Gated(folder, dark=dark, site=site, error=error)
    try:
        on.play(DARK if dark else LIT)
        found = [*on.strict.faults, *(["the colours were given back"] if on.strict.released else [])]
        return found + ([f"light: {light}" for light in lights(on.text)] if dark else [])
    finally:
        on.close()


def faults(folder: Path, *, dark: bool, one_in: int = 1) -> dict[Site, list[str]]:
    """Return what was wrong where: every call in every state is made to fail, or one in so many."""
    sites = told(folder, dark=dark)
    # Each state of a play makes calls of its own, and those to the system are among them.
    assert {step for *_, step in sites} == set(range(len(DARK if dark else LIT)))
    assert {"write", "select", "pread", "waitpid", "tcsetattr", "fork"} <= {name for _, _, name, _ in sites}
    found = {}
    # Neighbours fail in different ways.
    for number, site in list(enumerate(sites))[::one_in]:
        error = list(ERRORS)[number // one_in % 2]
        if seen := wrong(folder, site, error, dark=dark):
            found[site] = seen
    return found


def main() -> int:
    """Let every call fail, lit and in the dark; return 1 if any gave colours back, or lit the dark."""
    found: dict[Site, list[str]] = {}
    for dark in (False, True):
        with tempfile.TemporaryDirectory(prefix="embertray-") as folder:
            print(
                f"{len(told(Path(folder), dark=dark))} calls {'in the dark' if dark else 'lit'}", flush=True
            )
            found |= faults(Path(folder), dark=dark)
    for (file, line, name, step), seen in found.items():
        print(f"{Path(file).name}:{line} {name}, state {step}: {seen[:2]}")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main())
