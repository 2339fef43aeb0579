"""The gate's signs of life, as the screen behind it waits for them."""

from __future__ import annotations

import asyncio
import os
from collections.abc import Awaitable, Callable, Mapping
from functools import partial

from tui.gate.beats import VARIABLE

Pulse = Callable[[], Awaitable[None]]


def gate_pulse(environ: Mapping[str, str] | None = None) -> Pulse | None:
    """Return what waits for the gate's next sign of life; None where we run behind no gate."""
    named = (os.environ if environ is None else environ).get(VARIABLE, "")
    if not named.isdecimal():
        return None
    line = int(named)
    try:
        # Nothing that we start may keep it open.
        os.set_inheritable(line, False)  # noqa: FBT003 - its own way to call
        os.set_blocking(line, False)
    except OSError:
        return None
    return partial(_next, line)


async def _next(line: int) -> None:
    """Return once the gate has shown life; never again when it has gone."""
    if not await _read(line):
        await asyncio.Event().wait()


async def _read(line: int) -> bool:
    """Return whether there was a sign of life; False at the end of the pipe."""
    loop, readable = asyncio.get_running_loop(), asyncio.Event()
    loop.add_reader(line, readable.set)
    try:
        await readable.wait()
    finally:
        loop.remove_reader(line)
    try:
        return bool(os.read(line, 65536))  # what was written while we were busy, or frozen, counts once
    except OSError:
        return False
