"""Starting our own small processes: the switchboard, and the one that clears the pins after it."""

from __future__ import annotations

import asyncio
import contextlib
import os
import signal
import sys
from asyncio.subprocess import DEVNULL, PIPE, Process
from pathlib import Path

import firmware_py
from firmware_py.switchboard.commands import RelayWiring
from firmware_py.switchboard.lines import LINE_LIMIT
from firmware_py.switchboard.make_safe import words_for

CLEAR_S = 2.0
CLEAR_TRIES = 3
DIE_S = 1.0


async def start_switchboard() -> Process:
    """Start the process, in a session of its own: the terminal's Ctrl-C does not reach it."""
    return await asyncio.create_subprocess_exec(
        *_python("firmware_py.switchboard"),
        stdin=PIPE,
        stdout=PIPE,
        stderr=PIPE,
        limit=LINE_LIMIT,
        env=_environment(),
        start_new_session=True,
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


async def clear_pins(way: str, record: str | None, relays: tuple[RelayWiring, ...]) -> bool:
    """Return whether a fresh process has driven every line to its safe level."""
    levels = {wiring.pin: not wiring.active_high for wiring in relays if wiring.pin is not None}
    if not levels:
        return True
    for _ in range(CLEAR_TRIES):
        with contextlib.suppress(OSError):  # no process to be had just now: try again
            if await _clear_once(words_for(way, record, levels)):
                return True
    return False


async def _clear_once(words: list[str]) -> bool:
    process = await asyncio.create_subprocess_exec(
        *_python("firmware_py.switchboard.make_safe"),
        *words,
        stdin=DEVNULL,
        stdout=DEVNULL,
        stderr=DEVNULL,
        env=_environment(),
        start_new_session=True,
    )
    try:
        return await asyncio.wait_for(process.wait(), CLEAR_S) == 0
    except TimeoutError:
        await kill(process)
        return False


def _python(module: str) -> tuple[str, ...]:
    return (sys.executable, "-P", "-m", module)


def _environment() -> dict[str, str]:
    """Return our environment, with the folder this very code came from first on the search path."""
    code = str(Path(firmware_py.__file__).parent.parent)
    paths = [code, *filter(None, [os.environ.get("PYTHONPATH")])]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(paths)}
