"""A thermometer on a serial port: a pseudo-terminal that tells the room, and can be unplugged."""

from __future__ import annotations

import os
import tty
from contextlib import suppress
from pathlib import Path
from typing import Literal

from tests.faults.stage.moments import now_s
from tests.faults.stage.users import BENCH_USER, is_root

EVERY_S = 0.5
ROOM_degC = 18.2


class Instrument:
    """The instrument at ``port``, a link that leads to wherever it is plugged in now."""

    def __init__(self, port: Path) -> None:
        self.port = port
        self.mode: Literal["well", "babbles"] = "well"
        self._ends: tuple[int, ...] = ()
        self._next_s = 0.0
        self.plug_in()

    def plug_in(self) -> None:
        """Be there, perhaps under another device than before."""
        self.mode = "well"
        if self._ends:
            return
        self._ends = our_end, their_end = os.openpty()
        tty.setraw(their_end)
        os.set_blocking(our_end, False)
        device = os.ttyname(their_end)
        if is_root():
            os.chown(device, BENCH_USER, BENCH_USER)
        fresh = self.port.with_suffix(".fresh")
        fresh.symlink_to(device)
        fresh.replace(self.port)

    def advance(self) -> None:
        """Tell the temperature when it is time to; one that babbles tells bytes all the time."""
        if self._ends and self.mode == "babbles":
            self._say(os.urandom(200))
        elif self._ends and now_s() >= self._next_s:
            self._next_s = now_s() + EVERY_S
            self._say(f"T {ROOM_degC:.2f}\n".encode("ascii"))

    def hang_up(self) -> None:
        """Be pulled out in the middle of a line."""
        self._say(b"T 1")
        self.close()

    def close(self) -> None:
        for end in self._ends:
            os.close(end)
        self._ends = ()

    def _say(self, words: bytes) -> None:
        with suppress(BlockingIOError):  # nobody reads, and what was told is lost
            os.write(self._ends[0], words)
