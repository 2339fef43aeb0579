"""Runs a controller with its socket until it is told to go, and takes up the runs that were left open."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
from collections.abc import Awaitable, Callable
from contextlib import suppress
from pathlib import Path

from firmware_py.bench.controller import Controller
from firmware_py.craft.refusal import Refused
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.service.server import Service

STOPPING = (signal.SIGTERM, signal.SIGINT, signal.SIGHUP)


async def host(
    make: Callable[[], Awaitable[Controller]], socket: Path | None, *, leave_with_stdin: bool = False
) -> Controller:
    """Make a controller, serve it on ``socket`` (None: on none), and return it when it has ended.

    With ``leave_with_stdin`` it also ends when whoever started it closes the pipe. Raises Refused when
    it cannot start.
    """
    controller = await make()
    loop = asyncio.get_running_loop()
    for number in STOPPING:
        loop.add_signal_handler(number, controller.stop, f"signal {signal.Signals(number).name}")
    service = Service(controller, socket) if socket is not None else None
    try:
        if service is not None:
            await service.start()
        if leave_with_stdin:
            loop.add_reader(sys.stdin.fileno(), _when_stdin_ends, controller, loop)
        await controller.run()
    finally:
        for number in STOPPING:
            loop.remove_signal_handler(number)
        if service is not None:
            await service.close()
    return controller


def take_up_open_runs(controller: Controller, journal: Journal) -> None:
    """Give the bench every run that its journal holds open.

    A run that can not be replayed is left where it is and said so; the others go on.
    """
    for row in journal.open_runs():
        try:
            controller.bench.runs.resume(RunRecord.replay(journal.read(row.run_id)))
        except Refused as refusal:
            controller.bench.trouble("damaged run", f"A run cannot be read from the journal: {refusal.line}")


def _when_stdin_ends(controller: Controller, loop: asyncio.AbstractEventLoop) -> None:
    with suppress(OSError):
        if os.read(sys.stdin.fileno(), 4096):
            return
    loop.remove_reader(sys.stdin.fileno())
    controller.stop("whoever started it has gone")
