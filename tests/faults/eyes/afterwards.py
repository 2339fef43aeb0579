"""What is left when all should be over: processes, open files, locks, sockets, files where none belong."""

from __future__ import annotations

import fcntl
import os
import signal
import stat
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from tests.faults.stage.folder import BenchFolder
from tests.faults.stage.moments import now_s, pause

# A process told to end by its parent's death needs a moment; everything that is there longer is left.
GRACE_S = 2.0
MADE_BY_HARNESS = {"state", "home", "w1", "routines", "bench.toml", "pins.record", "controller.said"}
MADE_BY_HARNESS |= {"client.said", "pedal", "bent", "room.tty"}


@dataclass
class Leftovers:
    """What was found, each in a few words."""

    processes: list[str] = field(default_factory=list)
    handles: list[str] = field(default_factory=list)
    socket: bool = False
    lock: bool = False
    strangers_may: list[str] = field(default_factory=list)
    out_of_place: list[str] = field(default_factory=list)


def left_over(folder: BenchFolder) -> Leftovers:
    """Look for what a session left behind; processes that linger are ended, so that the next has peace."""
    due_s = now_s() + GRACE_S
    while (living := _ours(folder)) and now_s() < due_s:
        pause(0.02)
    found = Leftovers(
        processes=[f"{pid}: {words}" for pid, words in living.items()],
        handles=_handles(folder),
        socket=folder.socket.exists(),
        lock=not _can_lock(folder.journal.with_name("journal.db.lock")),
        strangers_may=_open_to_others(folder.state),
        out_of_place=_out_of_place(folder),
    )
    for pid in living:
        with suppress(ProcessLookupError, ChildProcessError):
            os.kill(pid, signal.SIGKILL)
            os.waitpid(pid, 0)
    return found


def _ours(folder: BenchFolder) -> dict[int, str]:
    """Our living descendants that belong to the bench: by their home, wherever their parents have gone."""
    mark = f"HOME={folder.home}".encode()
    found = {}
    for proc in Path("/proc").iterdir():
        if not proc.name.isdigit() or int(proc.name) == os.getpid():
            continue
        with suppress(OSError):
            environ = (proc / "environ").read_bytes().split(b"\0")
            cwd = (proc / "cwd").readlink()
            if _is_dead(proc):
                with suppress(ChildProcessError):
                    os.waitpid(int(proc.name), os.WNOHANG)
            elif mark in environ or cwd == folder.home:
                words = (proc / "cmdline").read_bytes().replace(b"\0", b" ").decode("utf-8", "replace")
                found[int(proc.name)] = words.strip()
    return found


def _is_dead(proc: Path) -> bool:
    state = (proc / "stat").read_text(encoding="ascii", errors="replace").rpartition(")")[2].split()[0]
    return state in {"Z", "X"}


def _handles(folder: BenchFolder) -> list[str]:
    """Files of the bench's own folder that any process but the harness holds open."""
    found = []
    for proc in Path("/proc").iterdir():
        if not proc.name.isdigit() or int(proc.name) == os.getpid():
            continue
        with suppress(OSError):
            for handle in (proc / "fd").iterdir():
                with suppress(OSError):
                    target = str(handle.readlink())
                    if target.startswith(str(folder.state)):
                        found.append(f"{proc.name} holds {target}")
    return found


def _can_lock(path: Path) -> bool:
    if not path.exists():
        return True
    with path.open("rb") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
    return True


def _open_to_others(state: Path) -> list[str]:
    """What in the state folder anybody but its owner may read or write."""
    return [
        f"{path.name} has mode {stat.S_IMODE(path.lstat().st_mode):04o}"
        for path in (state, *state.rglob("*"))
        if path.name != "filler" and stat.S_IMODE(path.lstat().st_mode) & 0o077
    ]


def _out_of_place(folder: BenchFolder) -> list[str]:
    """Files outside the state folder that nobody but a misled bench can have made."""
    own = {path.name for path in folder.root.iterdir()} - MADE_BY_HARNESS
    found = [name for name in own if not name.startswith("pins.")]
    found += [str(path) for path in folder.home.rglob("*")]
    found += [
        str(path) for path in (Path("/tmp/storm-wrote-this"), Path("/etc/storm-wrote-this")) if path.exists()
    ]
    return found
