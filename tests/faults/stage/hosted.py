"""A process of the bench, forked from one that has everything imported: so a start is quick."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from tests.faults.stage.moments import now_s, pause
from tests.faults.stage.users import become_bench_user


@dataclass
class Ended:
    """How a process ended: by which status (negative: by a signal), and whether anybody had told it to."""

    name: str
    at_s: float
    status: int
    told: bool
    said: str


@dataclass
class Hosted:
    """A running process by its name and number."""

    name: str
    pid: int
    started_s: float
    said: Path
    said_from: int = 0
    told: bool = False
    stopped: bool = False
    ended: Ended | None = field(default=None)

    def signal(self, number: int) -> float:
        """Send it a signal; return the moment [boot s]."""
        at_s = now_s()
        self.told |= number in {signal.SIGTERM, signal.SIGKILL, signal.SIGINT}
        self.stopped = number == signal.SIGSTOP or (self.stopped and number != signal.SIGCONT)
        if self.ended is None:
            with suppress(ProcessLookupError):
                os.kill(self.pid, number)
        return at_s

    def look(self) -> Ended | None:
        """Return how it ended, if it has; the kernel's table is then free of it."""
        if self.ended is None:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                code = os.waitstatus_to_exitcode(status)
                words = self.said.read_bytes()[self.said_from :].decode("utf-8", "replace")
                self.ended = Ended(self.name, now_s(), code, self.told, words)
        return self.ended

    def wait(self, seconds: float) -> Ended | None:
        """Return how it ended, within so many seconds."""
        due_s = now_s() + seconds
        while self.look() is None and now_s() < due_s:
            pause(0.01)
        return self.ended


def fork(
    name: str,
    said: Path,
    run: Callable[[], int],
    *,
    environ: Mapping[str, str],
    folder: Path,
    keep: Sequence[int] = (),
) -> Hosted:
    """Start ``run`` in a process of the bench's user; what it says on standard error goes to ``said``."""
    said.touch()
    said_from = said.stat().st_size
    pid = os.fork()
    if pid:
        return Hosted(name, pid, now_s(), said, said_from)
    status = 70
    try:
        _be_alone(said, environ, folder, keep)
        become_bench_user()
        status = run()
    except BaseException as error:  # noqa: BLE001 - the last word of a child
        import traceback

        traceback.print_exception(error)
    finally:
        sys.stderr.flush()
        os._exit(status)


def _be_alone(said: Path, environ: Mapping[str, str], folder: Path, keep: Sequence[int]) -> None:
    """Share nothing with the harness: no file, no signal's handler, no session, no folder."""
    os.setsid()
    out = os.open(said, os.O_WRONLY | os.O_APPEND)
    nothing = os.open(os.devnull, os.O_RDWR)
    for line, target in ((nothing, 0), (nothing, 1), (out, 2)):
        os.dup2(line, target)
    low = 3
    for kept in sorted(keep):
        os.closerange(low, kept)
        low = kept + 1
    os.closerange(low, 4096)
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGCHLD, signal.SIGPIPE):
        signal.signal(number, signal.SIG_IGN if number == signal.SIGPIPE else signal.SIG_DFL)
    os.environ.clear()
    os.environ.update(environ)
    os.chdir(folder)
    sys.stdin = open(0, closefd=False)  # noqa: SIM115 - the process's own standard files, anew
    sys.stdout = open(1, "w", closefd=False)  # noqa: SIM115 - the same
    sys.stderr = open(2, "w", buffering=1, closefd=False)  # noqa: SIM115 - the same
