"""A serial line that comes and goes: opened when it is there, read by whole lines, never for long."""

from __future__ import annotations

import contextlib
import os
import termios
import threading
from types import TracebackType
from typing import Self

import serial

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock
from firmware_py.devices.instrument_text import LINE_LIMIT

# What a port can fail with: pyserial lets some of the system's own errors through.
_FAILURES = (OSError, termios.error)
CLOSED = "the probe is closed"
# Without a line's end in so many bytes it is no talk of lines.
_HELD_LIMIT = 4 * LINE_LIMIT


class SerialWire:
    """The port at a path; whoever uses it does so within ``with wire:``, which turns failures into refusals.

    A port that failed is closed and opened again by the next use.
    """

    def __init__(self, path: str, baud: int, clock: Clock) -> None:
        self.path = path
        self._baud = baud
        self._clock = clock
        self._port: serial.Serial | None = None
        self._held = b""
        self._is_cut = True
        self._closed = False
        self._in_use = threading.Lock()

    def __enter__(self) -> Self:
        """Open the port if it is not; raises Refused where it can not be."""
        self._in_use.acquire()
        try:
            if self._port is None:
                self._open()
        except BaseException:
            self._in_use.release()
            raise
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Close a port that failed, and say why."""
        try:
            if isinstance(error, _FAILURES):
                self._drop()
                raise Refused(f"no answer from {self.path}{_why(error)}: usually the plug") from None
        finally:
            self._in_use.release()

    def say(self, text: str) -> None:
        """Send a line."""
        self._opened.write(text.encode("ascii") + b"\n")

    def forget(self, *, cut: bool) -> None:
        """Throw away all that came in so far; ``cut`` says that the next line may have begun before."""
        self._held, self._is_cut = b"", cut
        self._opened.reset_input_buffer()

    def last_line(self) -> bytes | None:
        """Return the newest whole line that has come in by now, if any; older ones are thrown away."""
        self._take(self._opened.in_waiting)
        newest = None
        while (line := self._cut()) is not None:
            newest = line
        return newest

    def next_line(self, due_s: float) -> bytes | None:
        """Return the next whole line, waiting for it until ``due_s`` [boot s]; None if there is none."""
        port = self._opened
        while (line := self._cut()) is None:
            left_s = due_s - self._clock.now_s()
            if left_s <= 0:
                return None
            port.timeout = left_s
            self._take(max(1, port.in_waiting))
        return line

    def close(self) -> None:
        """Close the port for good; a thread that reads is woken and waited for."""
        self._closed = True
        if (port := self._port) is not None:
            with contextlib.suppress(*_FAILURES):
                port.cancel_read()
        with self._in_use:
            self._drop()

    def _drop(self) -> None:
        port, self._port = self._port, None
        if port is not None:
            with contextlib.suppress(*_FAILURES):
                port.close()

    @property
    def _opened(self) -> serial.Serial:
        if self._port is None or self._closed:
            raise Refused(CLOSED)
        return self._port

    def _open(self) -> None:
        if self._closed:
            raise Refused(CLOSED)
        try:
            self._port = serial.Serial(self.path, self._baud, timeout=0, write_timeout=1.0, exclusive=True)
        except (ValueError, *_FAILURES) as error:
            why = f"{_why(error)}: usually the plug, or another program has it"
            raise Refused(f"no port {self.path}{why}") from None
        self._held, self._is_cut = b"", True

    def _take(self, size: int) -> None:
        self._held += self._opened.read(size)
        if self._closed:
            raise Refused(CLOSED)
        if len(self._held) > _HELD_LIMIT:
            self._held, self._is_cut = b"", True
            raise Refused("no end of a line in what comes in: usually a wrong baud rate")

    def _cut(self) -> bytes | None:
        """Return the first whole line that is held, if any; empty ones are no lines."""
        while ends := [n for n in (self._held.find(b"\n"), self._held.find(b"\r")) if n >= 0]:
            line, self._held = self._held[: min(ends)], self._held[min(ends) + 1 :]
            was_cut, self._is_cut = self._is_cut, False
            if line.strip() and not was_cut:
                return line
        return None


def _why(error: BaseException) -> str:
    number = getattr(error, "errno", None)
    return f" ({os.strerror(number)})" if number else ""
