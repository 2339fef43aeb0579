"""The machine has little to give: no processor time, no memory."""

from __future__ import annotations

import os
import resource
import signal
from contextlib import suppress
from pathlib import Path
from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault, Needs
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
        _allow(stage.controller.pid, resource.RLIMIT_AS, _size_bytes(stage.controller.pid) + LEFT_BYTES)


def _feed(_stage: Stage, struck: Struck) -> None:
    if "pid" in struck.notes:
        _allow(struck.notes["pid"], resource.RLIMIT_AS, resource.RLIM_INFINITY)


def _stop_new_ones(stage: Stage, _dice: Random, struck: Struck) -> None:
    """No thread and no process more, as at a limit of the system; those that run go on."""
    struck.at_s = now_s()
    if stage.controller is not None:
        struck.notes["pid"] = stage.controller.pid
        _allow(stage.controller.pid, resource.RLIMIT_NPROC, 0)


def _let_new_ones(_stage: Stage, struck: Struck) -> None:
    if "pid" in struck.notes:
        _allow(struck.notes["pid"], resource.RLIMIT_NPROC, resource.RLIM_INFINITY)


def _allow(pid: int, what: int, limit: int) -> None:
    """Set the limit as the bench's own user: root itself may lack the right over another's limits."""
    child = os.fork()
    if child == 0:
        with suppress(BaseException):
            become_bench_user()
            resource.prlimit(pid, what, (limit, resource.prlimit(pid, what)[1]))
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
    Fault(
        "no new thread or process",
        "what cannot be asked is said and asked again; nothing is lost, and all comes back",
        _stop_new_ones,
        _let_new_ones,
        judged_after_s=3.1,
        needs=Needs.PLATE | Needs.ROOT,
        says=r"(?i)probe developer",
        known_after_s=1.0,  # it is asked once a second
    ),
)
