"""Runs a controller with its socket until it is told to go."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from firmware_py.bench.controller import Controller
from firmware_py.devices.clock import BootClock
from firmware_py.service.bookshelf import Bookshelf
from firmware_py.service.notify import READY, STOPPING, manager, show_life
from firmware_py.service.server import Service

END_SIGNALS = (signal.SIGTERM, signal.SIGINT, signal.SIGHUP)


async def host(
    make: Callable[[], Awaitable[Controller]],
    socket: Path | None,
    *,
    shelf: Bookshelf | None = None,
    alone_s: float | None = None,
) -> Controller:
    """Make a controller, serve it on ``socket`` (None: on none), and return it when it has ended.

    Screens that ask the book are answered from ``shelf``.
    With ``alone_s`` [s] it also ends when no screen has been open for that long. A service manager is told
    that we are ready, that we live as long as the relays are held, and that we stop. Raises Refused when it
    cannot start.
    """
    controller, told = await make(), manager()
    service = Service(controller, socket, shelf) if socket is not None else None

    def stop(why: str) -> None:
        told.tell(STOPPING)
        controller.stop(why)

    try:
        with _signals_heard(stop):
            if service is not None:
                await service.start()
            told.tell(READY)
            loop, held = asyncio.get_running_loop(), controller.devices.switchboard.is_held
            watches = [
                loop.create_task(_leave_when_alone(controller, service, alone_s)),
                # By the real clock, whatever the bench's own does.
                loop.create_task(show_life(told, BootClock(), held)),
            ]
            await controller.run()
            for watch in watches:
                watch.cancel()
    finally:
        if service is not None:
            await service.close()
    return controller


@contextmanager
def _signals_heard(stop: Callable[[str], None]) -> Iterator[None]:
    """Have ``stop`` told why, while this lasts, when the system asks this process to end."""
    loop = asyncio.get_running_loop()
    for number in END_SIGNALS:
        loop.add_signal_handler(number, stop, f"signal {number.name}")
    try:
        yield
    finally:
        for number in END_SIGNALS:
            loop.remove_signal_handler(number)


async def _leave_when_alone(controller: Controller, service: Service | None, alone_s: float | None) -> None:
    if service is None or alone_s is None:
        return
    while not await service.is_alone_for(alone_s):
        pass
    controller.stop("no screen was open any more")
