"""Controller, switchboard and guardian killed and frozen, alone and in pairs, in every order.

``python -m tests.faults.pairs`` lights the lamp and the safelight anew for each case, strikes, and prints how
long a line stayed active, as the record of the pins has it: such pins keep a dead process's level, which is
the worst that a kernel does. No service manager runs. It returns 1 where a line was active for longer than
`DARK_WITHIN_S`. All three struck at once are shown too: those are for the service manager and the hardware.
"""

from __future__ import annotations

import math
import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from itertools import permutations, product
from pathlib import Path
from select import select

from firmware_py.devices.clock import BootClock
from tests.switchboard.pin_watch import spans
from tests.switchboard.wiring import LAMP_PIN, SAFELIGHT_PIN

PROCESSES = ("controller", "switchboard", "guardian")
SIGNALS = {"killed": signal.SIGKILL, "frozen": signal.SIGSTOP}
DARK_WITHIN_S = 1.5
GIVEN_UP_s = 8.0


@dataclass(frozen=True)
class Blow:
    """One process, struck in one way."""

    process: str
    how: str

    def __str__(self) -> str:
        return f"{self.process} {self.how}"


Case = tuple[Blow, ...]


def singles() -> list[Case]:
    """Return each process struck alone."""
    return [(Blow(process, how),) for process in PROCESSES for how in SIGNALS]


def alone(case: Case) -> bool:
    """Return whether the two that hold the lamp are whole, so that it stays lit, and rightly."""
    return all(blow.process == "guardian" for blow in case)


def triples() -> list[Case]:
    """Return all three struck at once: what no software can answer."""
    return [tuple(Blow(process, how) for process in reversed(PROCESSES)) for how in SIGNALS]


def pairs() -> list[Case]:
    """Return each two processes struck one right after the other, in either order."""
    return [
        (Blow(first, one), Blow(second, other))
        for first, second in permutations(PROCESSES, 2)
        for one, other in product(SIGNALS, repeat=2)
    ]


class Bench:
    """A small real controller with its two processes, that holds lamp and safelight on."""

    def __init__(self, folder: Path) -> None:
        self.record = folder / "pins.txt"
        words = [sys.executable, "-m", "tests.switchboard.parent", str(self.record)]
        self.process = subprocess.Popen(words, stdout=subprocess.PIPE)
        assert self.process.stdout is not None
        switchboard, guardian = map(int, self.process.stdout.readline().split())
        pids = {"controller": self.process.pid, "switchboard": switchboard, "guardian": guardian}
        # Not by number: one that is dead and replaced must not be struck in another's place.
        self._handles = {process: os.pidfd_open(pid) for process, pid in pids.items()}

    def strike(self, case: Case) -> float:
        """Strike, one after the other; return when [boot s] the first was struck."""
        at_s = BootClock().now_s()
        for blow in case:
            with suppress(ProcessLookupError):  # the blow before has ended it already
                signal.pidfd_send_signal(self._handles[blow.process], SIGNALS[blow.how])
        return at_s

    def active_until_s(self) -> float:
        """Return until when [boot s] a line was active; infinite while one is."""
        lamp = spans(self.record, LAMP_PIN)
        safelight = spans(self.record, SAFELIGHT_PIN, active_high=False)
        return float(max(span.off_s for span in (*lamp, *safelight)))

    def close(self) -> None:
        """End what is left of the three."""
        for handle in self._handles.values():
            with suppress(ProcessLookupError):
                signal.pidfd_send_signal(handle, signal.SIGKILL)
            os.close(handle)
        self.process.wait()
        assert self.process.stdout is not None
        self.process.stdout.close()


@contextmanager
def lit_bench() -> Iterator[Bench]:
    """Start a bench whose lamp and safelight are on."""
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(Path(folder))
        try:
            yield bench
        finally:
            bench.close()


def dark_after_s(case: Case) -> float:
    """Return how long [s] a line was active after the first blow; infinite where nothing ended it."""
    with lit_bench() as bench:
        struck_s = bench.strike(case)
        clock = BootClock()
        while math.isinf(bench.active_until_s()) and clock.now_s() < struck_s + GIVEN_UP_s:
            select([], [], [], 0.02)
        return bench.active_until_s() - struck_s


def main() -> int:
    """Print the table; 1 where a line was active for too long."""
    late = 0
    for case in singles() + pairs() + triples():
        seconds = dark_after_s(case)
        expected = alone(case) or len(case) == len(PROCESSES)
        late += seconds > DARK_WITHIN_S and not expected
        words = f"{seconds:.2f} s" if math.isfinite(seconds) else f"lit{' (as it must be)' * alone(case)}"
        print(f"{', '.join(map(str, case)):62} {words}", flush=True)
    return int(late > 0)


if __name__ == "__main__":
    sys.exit(main())
