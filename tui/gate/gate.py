"""The loop between the real terminal and the program behind it."""

from __future__ import annotations

import os
import select
import signal
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager

from tui.gate import prompt as words
from tui.gate.beats import EVERY_S, VARIABLE, Beats
from tui.gate.child import Child
from tui.gate.dark import SharedDark
from tui.gate.prompt import BlindPrompt, Prompt
from tui.gate.terminal import STDIN, Terminal
from tui.red.rewriter import RedOnly

ENDING = (signal.SIGTERM, signal.SIGHUP, signal.SIGINT, signal.SIGQUIT)
WATCHED = (*ENDING, signal.SIGCHLD, signal.SIGWINCH, signal.SIGTSTP)
# A hung screen reads no keys: three of these in a row, and nothing between, end it from here.
HANG_KEY = b"\x1c"
HANG_KEY_SPELLED = b"\x1b[92;5u"
HANG_TIMES = 3
PATIENCE_S = 2.0


class Gate:
    """Runs one command again and again on a terminal that stays red until a word is typed."""

    def __init__(
        self,
        terminal: Terminal,
        argv: Sequence[str],
        environ: Mapping[str, str],
        dark: SharedDark,
        *,
        bell: bool = False,
        still_open: Callable[[], str] | None = None,
    ) -> None:
        self._terminal = terminal
        self._argv = argv
        self._environ = environ
        self._bell = bell
        self._still_open = still_open
        self.unattended = False
        self.gives_back = False
        self._dark = dark
        self._blind = BlindPrompt()
        self._warned = False
        self._hang_keys = 0
        self._prompt: Prompt | None = None
        self._asked = ""
        self.again = words.AGAIN
        self._result: int | None = None
        self._beats = Beats()

    def run(self) -> int:
        """Return the last exit status once the person has given the terminal back."""
        with _signals() as told:
            self._start()
            try:
                while self._result is None:
                    self._turn(told)
            except BaseException:
                # A screen without a gate could be neither seen nor left.
                self._end(1)
                raise
        self._beats.close()
        return self._result

    def _start(self) -> None:
        console = self._terminal.console
        self._red = RedOnly(
            self._terminal.level,
            bell=self._bell,
            console=console,
            cube=self._terminal.cube,
            font=self._terminal.font,
        )
        self._beats.close()
        self._beats = Beats()
        line = self._beats.reading
        self._child = Child(
            self._argv,
            {**self._environ, VARIABLE: str(line)},
            self._terminal.size(),
            self._terminal.for_program,
            inherited=line,
        )
        self._beats.handed_over()

    def _turn(self, told: int) -> None:
        line = [self._child.line] if self._child.line >= 0 else []
        full = line if self._child.waiting else []
        ready, _, _ = select.select([STDIN, told, *line], full, [], EVERY_S)
        self._beats.beat()
        if self._child.waiting and self._child.line >= 0:
            self._child.type(b"")
        if self._child.line in ready:
            self._pass_on()
        if told in ready:
            for number in os.read(told, 1024):
                self._signal(number)
        if STDIN in ready and self._result is None:
            self._keys(_typed())

    def _pass_on(self) -> None:
        """Write what the program wrote: red, and in the dark without any light."""
        data = self._child.read()
        # Read after the program's words: it says that there is light before it draws any.
        self._red.is_black = self._dark.look()
        self._terminal.write(self._red.feed(data))

    def _signal(self, number: int) -> None:
        if number in ENDING:
            self._end(128 + number)
        elif number == signal.SIGWINCH:
            self._child.resize(self._terminal.size())
        elif number == signal.SIGCHLD:
            self._child_changed()

    # --- the program ends or stops ---

    def _child_changed(self) -> None:
        match self._child.look():
            case "stopped":
                self._terminal.mend(clear=True, dark=self._dark.look())
                self._ask(words.how_it_stopped(self._child.stopped_by), words.GO_ON)
            case "ended":
                self._show_end(self._child.status or 0)

    def _show_end(self, status: int) -> None:
        while self._child.line >= 0 and (data := self._child.read()):
            self._red.is_black = self._dark.look()
            self._terminal.write(self._red.feed(data))
        self._child.close()
        # A page that nobody draws any more must not stand there as if it were alive.
        self._terminal.mend(clear=self._red.in_full_screen, dark=self._dark.look())
        if self.unattended and status == 0 and not self._reason_to_wait():
            self.gives_back, self._result = True, status
            return
        self._ask(words.how_it_ended(status), self.again, words.RELEASE)

    def _ask(self, *lines: str) -> None:
        self._prompt, self._asked = Prompt(), "".join(f"{line}\r\n" for line in lines)
        self._say(f"{self._asked}> ")

    def _say(self, text: str) -> None:
        if self._dark.look():
            return
        line = self._terminal
        red = RedOnly(line.level, console=line.console, cube=line.cube, font=line.font)
        self._terminal.write(red.feed_text(text).encode())

    # --- the person types ---

    def _keys(self, keys: bytes) -> None:
        if not keys:
            self._end(128 + signal.SIGHUP)
        elif self._prompt is not None:
            self._answer(self._prompt, keys)
        elif self._is_hang_call(keys):
            self._child.signal(signal.SIGKILL)
        else:
            self._child.type(keys)

    def _is_hang_call(self, keys: bytes) -> bool:
        pressed = keys.replace(HANG_KEY_SPELLED, HANG_KEY)
        only = pressed.count(HANG_KEY) == len(pressed)
        self._hang_keys = self._hang_keys + len(pressed) if only else 0
        return self._hang_keys >= HANG_TIMES

    def _answer(self, prompt: Prompt, keys: bytes) -> None:
        # What was typed unseen before must not stand in the way of the keys that help.
        answer = self._blind.feed(keys) if self._dark.look() else prompt.feed(keys)
        if answer == "light":
            self._dark.light()
            self._say(f"{self._asked}> ")
        elif answer == "again":
            self._again()
        elif answer == "word" and self._child.status is not None:
            self._release()
        else:
            self._say(f"\r\x1b[K> {prompt.shown}")

    def _again(self) -> None:
        self._hang_keys, self._warned = 0, False
        self._prompt = None
        self._terminal.mend(clear=True, dark=self._dark.look())
        if self._child.status is None:
            self._child.go_on()
        else:
            self._start()

    def _release(self) -> None:
        reason = self._reason_to_wait()
        if not reason or self._warned:
            self.gives_back, self._result = True, self._child.status
            return
        self._warned = True
        self._ask(reason, f"To give the colours back all the same: type {words.RELEASE_WORD} again.")

    def _reason_to_wait(self) -> str:
        if self._still_open is None:
            return ""
        try:
            return self._still_open()
        except Exception:  # noqa: BLE001 - whatever fails there, the answer is to ask twice
            return "Nobody can say whether a plate is open."

    # --- the gate itself is told to end ---

    def _end(self, status: int) -> None:
        """End with the terminal left red: nobody said that it may be anything else."""
        self._result = status
        for number in (signal.SIGTERM, signal.SIGKILL):
            if self._child.status is None:
                self._child.signal(number)
                self._child.signal(signal.SIGCONT)
                self._wait_for_child()

    def _wait_for_child(self) -> None:
        watch = os.pidfd_open(self._child.pid)
        try:
            select.select([watch], [], [], PATIENCE_S)
        finally:
            os.close(watch)
        self._child.look()


def _typed() -> bytes:
    try:
        return os.read(STDIN, 4096)
    except OSError:
        return b""


@contextmanager
def _signals() -> Iterator[int]:
    """Give a file descriptor that carries the number of each signal as it comes."""
    reading, writing = os.pipe()
    os.set_blocking(writing, False)
    before = {number: signal.signal(number, _noted) for number in WATCHED}
    previous = signal.set_wakeup_fd(writing, warn_on_full_buffer=False)
    try:
        yield reading
    finally:
        signal.set_wakeup_fd(previous)
        for number, handler in before.items():
            signal.signal(number, handler)
        os.close(reading)
        os.close(writing)


def _noted(_number: int, _frame: object) -> None:
    """Do nothing: the wakeup descriptor carries the news."""
