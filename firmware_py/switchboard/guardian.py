"""The guardian: a process that watches controller and switchboard, and clears the pins when either is lost.

``python -m firmware_py.switchboard.guardian BEATS SILENCE WAY [--record FILE] PIN=high|low …``

``BEATS`` is the number of an inherited pipe into which the switchboard writes a byte at every sign of life,
``SILENCE`` [s] how long the switchboard bears a silent controller; the rest is as for `make_safe`. The
controller writes lines on standard input: ``watch PID`` names the switchboard's process, every other line is
a sign of life and is answered. The guardian needs nobody's word to act, and outlives both: it kills the
switchboard, which may be frozen, drives every line to its safe level, and ends.
"""

from __future__ import annotations

import contextlib
import os
import select
import signal
import sys

from firmware_py.switchboard.make_safe import load, read_words
from firmware_py.switchboard.make_safe import main as make_safe
from firmware_py.switchboard.realtime import (
    boot_now_s,
    lock_memory,
    still_the_collector,
    take_priority,
)
from firmware_py.switchboard.watch import Watch

READY, HERE, WATCH = b"ready\n", b"here\n", "watch "
# Nothing was guarded yet, so no line was touched.
NOTHING_DONE = 3
# How long [s] the kernel may take to close the lines of a process that was killed.
GONE_S = 1.0
# Whoever ends a group of processes ends this one last: it goes when the two that it watches have gone.
UNHEARD = (signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGQUIT)


class Guardian:
    """The pipes from both, the watch over them, and the switchboard's process."""

    def __init__(self, ears: int, mouth: int, beats: int, silence_s: float) -> None:
        self._ears, self._mouth, self._beats = ears, mouth, beats
        self._watch = Watch(silence_s)
        self._switchboard: int | None = None
        self._heard = b""
        self._poll = select.poll()
        for fd in (ears, beats):
            os.set_blocking(fd, False)
            self._poll.register(fd, select.POLLIN)
        os.set_blocking(mouth, False)

    def stand_by(self) -> str:
        """Return, when one of the two is lost, which, in words; nothing when none was ever to be guarded."""
        self._say(READY)
        while not self._watch.is_over():
            ready = self._poll.poll(self._patience_ms())
            for fd, _ in ready:
                self._hear(fd)
            # Judged only when nothing is left to read: we may be the one that was frozen.
            if not ready and (lost := self._watch.lost(boot_now_s())):
                return lost
        return ""

    def end_switchboard(self) -> None:
        """Kill the switchboard's process, and wait until the kernel has closed its lines."""
        if self._switchboard is None:
            return
        with contextlib.suppress(OSError):
            signal.pidfd_send_signal(self._switchboard, signal.SIGKILL)
        gone = select.poll()
        gone.register(self._switchboard, select.POLLIN)
        gone.poll(GONE_S * 1000)

    def _patience_ms(self) -> float | None:
        left_s = self._watch.next_due_s() - boot_now_s()
        return None if left_s == float("inf") else max(0.0, left_s * 1000)

    def _hear(self, fd: int) -> None:
        try:
            chunk = os.read(fd, 65536)
        except BlockingIOError:
            return
        except OSError:
            chunk = b""
        now_s = boot_now_s()
        if not chunk:
            self._poll.unregister(fd)
        if fd == self._beats:
            self._hear_switchboard(chunk, now_s)
        else:
            self._hear_controller(chunk, now_s)

    def _hear_switchboard(self, chunk: bytes, now_s: float) -> None:
        self._watch.switchboard_s = now_s
        if not chunk:
            self._watch.switchboard_ended_s = now_s

    def _hear_controller(self, chunk: bytes, now_s: float) -> None:
        self._watch.controller_s = now_s
        if not chunk:
            self._watch.controller_ended_s = now_s
        *lines, self._heard = (self._heard + chunk).split(b"\n")
        for line in lines:
            if line.startswith(WATCH.encode("ascii")):
                self._begin(int(line[len(WATCH) :]), now_s)
            self._say(HERE)

    def _begin(self, pid: int, now_s: float) -> None:
        with contextlib.suppress(OSError):  # it has ended already: its pipe says so
            self._switchboard = os.pidfd_open(pid)
        self._watch.begin(now_s)

    def _say(self, word: bytes) -> None:
        with contextlib.suppress(OSError):  # a controller that is frozen or gone reads nothing
            os.write(self._mouth, word)


def main(words: list[str]) -> int:
    """Return 0 when every line was driven to its level, 1 if one could not be, 3 if nothing was done."""
    beats, silence_s, *lines = words
    way, _, _ = read_words(lines)
    for number in UNHEARD:
        signal.signal(number, signal.SIG_IGN)
    load(way)
    take_priority()
    lock_memory()  # pages that nothing has touched for hours would have to come from the card first
    still_the_collector()
    guardian = Guardian(0, 1, int(beats), float(silence_s))
    if not guardian.stand_by():
        return NOTHING_DONE
    guardian.end_switchboard()
    return make_safe(lines)


if __name__ == "__main__":
    status = main(sys.argv[1:])
    # Not sys.exit: RPi.GPIO's and lgpio's clean-up would let the lines go that must stay driven.
    os._exit(status)
