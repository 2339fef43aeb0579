"""The machine has little to give: no processor time, no memory."""

from __future__ import annotations

import os
import resource
import signal
from contextlib import suppress
from pathlib import Path
from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage
from tests.faults.stage.users import become_bench_user

SPINNERS = 4
# What the controller may still take: the next larger thing is refused to it.
LEFT_BYTES = 1 << 20


def _spin(_stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    struck.notes["spinners"] = [_spinner() for _ in range(SPINNERS)]


def _spinner() -> int:
    pid = os.fork()
    while pid == 0:
        pass
    return pid


def _rest(_stage: Stage, struck: Struck) -> None:
    for pid in struck.notes.pop("spinners"):
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)


def _starve(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    if stage.controller is not None:
        struck.notes["pid"] = stage.controller.pid
        _allow(stage.controller.pid, _size_bytes(stage.controller.pid) + LEFT_BYTES)


def _feed(_stage: Stage, struck: Struck) -> None:
    if "pid" in struck.notes:
        _allow(struck.notes["pid"], resource.RLIM_INFINITY)


def _allow(pid: int, size_bytes: int) -> None:
    """Set the limit as the bench's own user: root itself may lack the right over another's limits."""
    child = os.fork()
    if child == 0:
        with suppress(BaseException):
            become_bench_user()
            resource.prlimit(pid, resource.RLIMIT_AS, (size_bytes, resource.RLIM_INFINITY))
        os._exit(0)
    os.waitpid(child, 0)


def _size_bytes(pid: int) -> int:
    with suppress(OSError):
        pages = Path(f"/proc/{pid}/statm").read_text(encoding="ascii").split()[0]
        return int(pages) * resource.getpagesize()
    return 1 << 30


FAULTS = (
    Fault(
        "no processor time",
        "later by what the machine withholds, and no more; nothing is lost",
        _spin,
        _rest,
        lasts_s=(0.5, 1.5),
    ),
    Fault(
        "no memory",
        "it goes on, or ends and is started anew; the relays are off before",
        _starve,
        _feed,
        lasts_s=(0.5, 1.5),
    ),
)
