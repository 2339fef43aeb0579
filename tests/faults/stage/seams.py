"""The seams at which a session bends what a machine tells a controller: the clocks, the disk, the pedal.

Laid in the forked process before the product's own code runs. Each stands in for something that can not be
had on a machine that others use too, and says what.
"""

from __future__ import annotations

import hashlib
import mmap
import os
import struct
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

BOOT_OFFSET = "STORM_BOOT_OFFSET_S"
DEFECT = "STORM_DEFECT"
_BENT = struct.Struct("dd")  # wall clock off by [s], each commit slower by [s]


@dataclass(frozen=True)
class Seams:
    """What one start of a machine is like: its name, and by how much [s] its boot clock is off the real one.

    ``bent`` is a file that the harness may write at any time (`Bent`); ``pedal`` a pipe of presses.
    """

    boot: str
    boot_offset_s: float
    bent: Path
    pedal: Path

    @property
    def boot_id(self) -> str:
        return hashlib.sha256(self.boot.encode()).hexdigest()[:32]


class Bent:
    """The harness's end of the file: what the wall clock is off by, and how slow the disk is."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.wall_off_s = 0.0
        self.commit_s = 0.0
        path.write_bytes(_BENT.pack(0.0, 0.0))
        path.chmod(0o644)

    def bend(self, *, wall_off_s: float | None = None, commit_s: float | None = None) -> None:
        self.wall_off_s = self.wall_off_s if wall_off_s is None else wall_off_s
        self.commit_s = self.commit_s if commit_s is None else commit_s
        with self.path.open("r+b") as file:
            file.write(_BENT.pack(self.wall_off_s, self.commit_s))


def lay(seams: Seams) -> None:
    """Lay every seam in this process."""
    read = _reader(seams.bent)
    bend_clocks(seams.boot_offset_s, lambda: read()[0])
    from firmware_py.devices import clock

    clock._kernel_boot_id = lambda: seams.boot_id
    _lay_under_the_book(lambda: read()[1])
    _lay_under_the_pedal(seams.pedal)
    _start_switchboards_bent(seams.boot_offset_s)


def bend_clocks(boot_offset_s: float, wall_off_s: Callable[[], float] = lambda: 0.0) -> None:
    """Let the kernel's clocks be off: stands in for a machine that was started anew, and for a wall clock
    that a network, a person or an empty battery set otherwise."""
    real = time.clock_gettime

    def bent(clock: int) -> float:
        if clock == time.CLOCK_BOOTTIME:
            return real(clock) + boot_offset_s
        return real(clock) + wall_off_s() if clock == time.CLOCK_REALTIME else real(clock)

    time.clock_gettime = bent


def bend_timers(boot_offset_s: float) -> None:
    """Let the switchboard's timer, which only the kernel can ring, be set by the bent boot clock."""
    from firmware_py.switchboard.realtime import BootTimer

    arm = BootTimer.arm

    def bent(self: BootTimer, due_s: float) -> None:
        arm(self, due_s - boot_offset_s)

    BootTimer.arm = bent  # type: ignore[method-assign]


def _reader(path: Path) -> Callable[[], tuple[float, float]]:
    with path.open("rb") as file:
        seen = mmap.mmap(file.fileno(), _BENT.size, access=mmap.ACCESS_READ)
    return lambda: _BENT.unpack_from(seen)


def _lay_under_the_book(commit_s: Callable[[], float]) -> None:
    """Make each commit slow: stands in for a card that takes so long for an fsync."""
    from firmware_py.journal.store import Journal

    write = Journal._write

    def slow(self: Journal, *rest: Any) -> None:
        threading.Event().wait(commit_s())
        write(self, *rest)

    Journal._write = slow  # type: ignore[method-assign, assignment]


def _lay_under_the_pedal(pipe: Path) -> None:
    """Drive the mock pin of the foot switch by bytes from a pipe: stands in for a foot on a real switch."""
    from firmware_py.devices import gpio_foot_switch

    made = gpio_foot_switch.GpioFootSwitch.__init__

    def make(self: Any, name: str, pin: int, pins: Any, *rest: Any, **more: Any) -> None:
        line = os.open(pipe, os.O_RDWR)
        os.set_blocking(line, False)
        while _read_some(line):  # feet that came down while no controller was there
            pass
        os.set_blocking(line, True)
        held = pins.factory.pin(pin)
        made(self, name, pin, pins, *rest, **more)
        threading.Thread(target=_press_for_ever, args=(line, held), daemon=True).start()

    gpio_foot_switch.GpioFootSwitch.__init__ = make  # type: ignore[method-assign]


def _read_some(line: int) -> bytes:
    try:
        return os.read(line, 4096)
    except BlockingIOError:
        return b""


def _press_for_ever(line: int, pin: Any) -> None:
    while True:
        for byte in os.read(line, 1):
            (pin.drive_low if byte == ord("d") else pin.drive_high)()


def _start_switchboards_bent(boot_offset_s: float) -> None:
    """Where boot clock or switchboard are bent, let the switchboard be started through `bent_switchboard`."""
    if boot_offset_s == 0.0 and DEFECT not in os.environ:
        return
    os.environ[BOOT_OFFSET] = repr(boot_offset_s)
    from firmware_py.switchboard import child, clearing

    start = child.python_process

    async def bent(module: str, *words: str, **pipes: Any) -> Any:
        return await start("tests.faults.stage.bent_switchboard", module, *words, **pipes)

    for room in (child, clearing):
        room.python_process = bent  # type: ignore[attr-defined]
