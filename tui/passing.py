"""A folder that passes with this process, however it ends, and the processes that go with it.

A process of its own waits until this one has ended, by a pipe that the kernel closes even after a SIGKILL.
Then it ends what it was told of and removes the folder: ``python -m tui.passing [FOLDER]``, on standard input
a process's number on each line. Standard library only.
"""

from __future__ import annotations

import os
import select
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

# A controller that is told to end has its journal to close.
END_S = 10.0
# One that is still ending may write a last file into a folder that is being removed.
TRIES, AGAIN_S = 20, 0.25
# Whoever ends a group of processes ends this one last.
UNHEARD = (signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGQUIT)


class Passing:
    """A folder of this session; what `goes_too` ends with this process."""

    def __init__(self, folder: Path, heir: subprocess.Popen[bytes]) -> None:
        self.folder = folder
        self._heir = heir

    def goes_too(self, process: subprocess.Popen[bytes]) -> None:
        """Have a process ended after this one, if it has not ended by then."""
        assert self._heir.stdin is not None
        self._heir.stdin.write(b"%d\n" % process.pid)
        self._heir.stdin.flush()


@contextmanager
def passing(folder: Path | None = None) -> Iterator[Passing]:
    """Give a new folder that is removed at the end; with ``folder``, that one, which stays."""
    made = None if folder is not None else Path(tempfile.mkdtemp(prefix="embertray-"))
    words = [] if made is None else [str(made)]
    heir = subprocess.Popen(
        [sys.executable, "-P", "-m", "tui.passing", *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        env=_environment(),
        start_new_session=True,
    )
    try:
        yield Passing(folder or made or Path(), heir)
    finally:
        assert heir.stdin is not None
        heir.stdin.close()
        heir.wait()


def main(words: list[str]) -> int:
    """Wait for the end of whoever started this; end what goes with it, and remove the folder."""
    for number in UNHEARD:
        signal.signal(number, signal.SIG_IGN)
    handles = []
    for line in sys.stdin.buffer:
        with suppress(OSError, ValueError):  # it has ended already
            handles.append(os.pidfd_open(int(line)))
    for number in (signal.SIGTERM, signal.SIGKILL):
        for handle in handles:
            with suppress(OSError):
                signal.pidfd_send_signal(handle, number)
        for handle in handles:
            select.select([handle], [], [], END_S)
    for folder in words:
        _remove(Path(folder))
    return 0


def _remove(folder: Path) -> None:
    for _ in range(TRIES):
        shutil.rmtree(folder, ignore_errors=True)
        if not folder.exists():
            return
        select.select([], [], [], AGAIN_S)


def _environment() -> dict[str, str]:
    """Return our environment, with the folder this very code came from first on the search path."""
    code = str(Path(__file__).parent.parent)
    return {
        **os.environ,
        "PYTHONPATH": os.pathsep.join([code, *filter(None, [os.environ.get("PYTHONPATH")])]),
    }


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
