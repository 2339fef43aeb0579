"""Starting and ending our own small processes: the switchboard, its guardian, and what clears the pins."""

from __future__ import annotations

import asyncio
import contextlib
import os
import signal
import sys
from asyncio.subprocess import PIPE, Process
from pathlib import Path

import firmware_py
from firmware_py.switchboard.lines import LINE_LIMIT

DIE_S = 1.0


async def start_switchboard(beats: int | None = None) -> Process:
    """Start the switchboard's process; it writes a sign of life into the pipe ``beats`` if there is one."""
    words = () if beats is None else (str(beats),)
    handed = () if beats is None else (beats,)
    return await python_process(
        "firmware_py.switchboard", *words, stdin=PIPE, stdout=PIPE, stderr=PIPE, pass_fds=handed
    )


async def kill(process: Process) -> None:
    """Kill a process that may be frozen, and wait until the kernel has closed its lines."""
    # Not process.kill(), which may reap a process that has just died before asyncio does.
    with contextlib.suppress(ProcessLookupError):
        os.kill(process.pid, signal.SIGKILL)
    with contextlib.suppress(TimeoutError):
        await asyncio.wait_for(process.wait(), DIE_S)
    if process.stdin is not None:
        process.stdin.close()


async def last_words(process: Process) -> str:
    """Return the last line that a dead process wrote on its standard error, or its exit status."""
    assert process.stderr is not None
    with contextlib.suppress(TimeoutError, ValueError):
        said = await asyncio.wait_for(process.stderr.read(LINE_LIMIT), DIE_S)
        lines = said.decode("utf-8", "replace").strip().splitlines()
        return lines[-1] if lines else f"exit status {process.returncode}"
    return "no last words"


async def python_process(
    module: str, *words: str, stdin: int, stdout: int, stderr: int, pass_fds: tuple[int, ...] = ()
) -> Process:
    """Start a module of ours, in a session of its own: the terminal's Ctrl-C does not reach it.

    It inherits the file descriptors ``pass_fds`` under the same numbers. Raises OSError.
    """
    return await asyncio.create_subprocess_exec(
        *(sys.executable, "-P", "-m", module, *words),
        stdin=stdin,
        stdout=stdout,
        stderr=stderr,
        pass_fds=pass_fds,
        limit=LINE_LIMIT,
        env=_environment(),
        start_new_session=True,
    )


def _environment() -> dict[str, str]:
    """Return our environment, with the folder this very code came from first on the search path."""
    code = str(Path(firmware_py.__file__).parent.parent)
    paths = [code, *filter(None, [os.environ.get("PYTHONPATH")])]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(paths)}
