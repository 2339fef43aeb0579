"""Whether the programs on a terminal are at rest: read from the kernel, so that no time has to be guessed."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

PROC = Path("/proc")
# Sleeping, stopped, or dead: whatever else it is, it works or waits for a processor.
AT_REST = frozenset("STtZX")


def on_terminal(pid: int) -> list[int]:
    """Return ``pid`` and all that it started, those that have no terminal (a controller) left out."""
    found, looked_at = [], [pid]
    while looked_at:
        one = looked_at.pop()
        with suppress(OSError):
            if _stat(PROC / str(one) / "stat")[4] != "0":
                found.append(one)
            for task in (PROC / str(one) / "task").iterdir():
                looked_at += map(int, (task / "children").read_text(encoding="ascii").split())
    return found


def work_of(pid: int) -> dict[int, str] | None:
    """Return how often each program on the terminal of ``pid`` has run; None while any thread works.

    Two equal answers mean that none of them ran in between.
    """
    runs = {}
    for one in on_terminal(pid):
        # A process that ends meanwhile is missing from the next answer, which then differs.
        with suppress(OSError):
            tasks = PROC / str(one) / "task"
            if any(_stat(task / "stat")[0] not in AT_REST for task in tasks.iterdir()):
                return None
            told = (tasks / str(one) / "status").read_text(encoding="utf-8").splitlines()
            runs[one] = " ".join(line for line in told if "ctxt_switches" in line)
    return runs


def _stat(file: Path) -> list[str]:
    """Return what follows the name of a process, which may hold anything: its state, ..., its terminal."""
    return file.read_text(encoding="utf-8", errors="replace").rpartition(")")[2].split()
