"""The switchboard process at work: it hears commands, wakes at deadlines, and says what it did."""

from __future__ import annotations

import contextlib
import os
import select
import signal
from collections import deque

from firmware_py.craft.refusal import Refused
from firmware_py.switchboard.board import Board
from firmware_py.switchboard.commands import Configure
from firmware_py.switchboard.last_words import KEPT, leave_last_words
from firmware_py.switchboard.lead import Lead
from firmware_py.switchboard.lines import LINE_LIMIT, read_command, write_line
from firmware_py.switchboard.panel import Panel
from firmware_py.switchboard.realtime import (
    BootTimer,
    boot_now_s,
    lock_memory,
    still_the_collector,
    take_priority,
)
from firmware_py.switchboard.reports import ExposureEnded, Leaving, Report, SwitchboardReady

# The timer is set this much early and the rest is spun away: a kernel busy with others may wake us that late.
# Only under real-time priority, where nothing can take the core in the meantime (measured: without it, the
# spin costs up to 16 ms under load).
SPIN_S = 0.002

# A service manager that ends all processes of a service tells them at once. The relays go off, but the
# controller is given this long to take its leave in good order, so that its book ends with more than a loss.
LEAVE_S = 2.0

STOP_SIGNALS = (signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGQUIT)


class ToldToEnd(Exception):  # noqa: N818 - reads as what happened, not as a kind of error
    """The service manager, or a person, wants the process gone."""


class Doubt(Exception):  # noqa: N818 - reads as what happened, not as a kind of error
    """Something that leaves no reason to keep a relay on."""


class Station:
    """The pipes to the controller and the guardian, the timer and the signals, behind one wait."""

    def __init__(self, ears: int, mouth: int, beats: int | None = None) -> None:
        self._ears, self._mouth, self._beats = ears, mouth, beats
        if beats is not None:
            os.set_blocking(beats, False)
        self._timer = BootTimer()
        self._signals = _signal_pipe()
        self._heard = b""
        self._spin_s = 0.0
        self._lead = Lead()
        self._ended: deque[ExposureEnded] = deque(maxlen=KEPT)
        os.set_blocking(ears, False)
        # A controller that does not read must not hold up the relays: a full pipe is a doubt, not a wait.
        os.set_blocking(mouth, False)
        self._poll = select.poll()
        for fd in (ears, self._timer.fd, self._signals):
            self._poll.register(fd, select.POLLIN)

    def serve(self) -> str:
        """Be the switchboard until there is a reason to end; return it. Every relay is released then."""
        try:
            configure = self._first_command()
            # Kept for good: gpiozero turns a line into an input when its device is let go.
            self._panel = panel = Panel(configure)
        except (Refused, Doubt, ToldToEnd, OSError) as doubt:
            return self._end(str(doubt))
        try:
            return self._serve(configure, panel)
        except Exception as error:  # noqa: BLE001 - whatever it is, the relays go first
            failures = panel.release_all()
            return self._end("; ".join([f"{type(error).__name__}: {error}", *failures]))
        finally:
            if configure.last_words is not None and self._ended:
                leave_last_words(configure.last_words, self._ended)

    def _serve(self, configure: Configure, panel: Panel) -> str:
        board = Board(configure.relays, throw=panel.throw, now_s=boot_now_s(), silence_s=configure.silence_s)
        try:
            self._say([self._settle(panel.pins_kind)])
            while board.left is None:
                self._say(self._advance(board))
                for line in self._lines():
                    self._say(board.take(read_command(line), boot_now_s()))
                self._show_life()
        except (Refused, Doubt) as doubt:
            self._say_last(board.leave(str(doubt)))
        return board.left or ""

    def _advance(self, board: Board) -> list[Report]:
        """Wait for the next deadline or line; do what is due, so that the line moves on the deadline."""
        due_s = board.next_due_s()
        try:
            is_due = self._wait(due_s - self._lead.seconds)
        except ToldToEnd as told:
            return board.end_soon(str(told), boot_now_s() + LEAVE_S)
        if not is_due:
            return board.advance(boot_now_s())
        reports = board.advance(max(due_s, boot_now_s()))
        ends = [report.off_s for report in reports if isinstance(report, ExposureEnded)]
        if ends:
            self._lead.learn(ends[0] - due_s)
        return reports

    def _show_life(self) -> None:
        """Let the guardian know that we live; one that does not read is no concern of ours."""
        if self._beats is not None:
            with contextlib.suppress(OSError):
                os.write(self._beats, b".")

    def _settle(self, pins_kind: str) -> SwitchboardReady:
        realtime, locked = take_priority(), lock_memory()
        self._spin_s = SPIN_S if realtime else 0.0
        still_the_collector()
        return SwitchboardReady(pins_kind, realtime, locked)

    def _first_command(self) -> Configure:
        while True:
            self._wait(float("inf"))
            for line in self._lines():
                command = read_command(line)
                if isinstance(command, Configure):
                    return command
                raise Doubt("the first command must be Configure")

    def _wait(self, due_s: float) -> bool:
        """Return when a line came in or ``due_s`` [boot s] is reached (True).

        Raises `ToldToEnd` on SIGTERM, `Doubt` on any other signal.
        """
        self._timer.arm(due_s - self._spin_s)
        ready = {fd for fd, _ in self._poll.poll()}
        if self._signals in ready:
            (number,) = os.read(self._signals, 1)
            words = f"stopped by {signal.Signals(number).name}"
            raise ToldToEnd(words) if number == signal.SIGTERM else Doubt(words)
        if due_s - boot_now_s() > self._spin_s:
            return False
        while boot_now_s() < due_s:
            pass
        return True

    def _lines(self) -> list[bytes]:
        try:
            chunk = os.read(self._ears, 65536)
        except BlockingIOError:
            return []
        if not chunk:
            raise Doubt("the controller is gone")
        *lines, self._heard = (self._heard + chunk).split(b"\n")
        if len(self._heard) > LINE_LIMIT:
            raise Doubt(f"a line of more than {LINE_LIMIT} bytes")
        return lines

    def _say(self, reports: list[Report]) -> None:
        self._ended.extend(report for report in reports if isinstance(report, ExposureEnded))
        for report in reports:
            line = write_line(report)
            try:
                written = os.write(self._mouth, line)
            except OSError as error:
                raise Doubt(f"the controller does not listen ({error.strerror})") from error
            if written != len(line):
                raise Doubt("the controller does not listen (pipe full)")

    def _end(self, why: str) -> str:
        self._say_last([Leaving(why)])
        return why

    def _say_last(self, reports: list[Report]) -> None:
        try:
            self._say(reports)
        except Doubt:
            return  # nobody is there to hear it


def _signal_pipe() -> int:
    reading, writing = os.pipe2(os.O_NONBLOCK | os.O_CLOEXEC)
    signal.set_wakeup_fd(writing, warn_on_full_buffer=False)
    for number in STOP_SIGNALS:
        signal.signal(number, _noted)
    return reading


def _noted(number: int, frame: object) -> None:
    """Do nothing here: the wake-up pipe tells the loop, which is then in a sound state."""
