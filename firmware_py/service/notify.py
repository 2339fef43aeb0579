"""What a service manager is told: ready, alive, stopping; by its own datagram protocol, or not at all.

**Source:** the manual pages sd_notify(3) and sd_watchdog_enabled(3) of systemd 252.
"""

from __future__ import annotations

import asyncio
import os
import socket
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from firmware_py.devices.clock import Clock

READY, ALIVE, STOPPING = "READY=1", "WATCHDOG=1", "STOPPING=1"


@dataclass(frozen=True, slots=True)
class Manager:
    """Whoever started this service and wants word of it; ``address`` is empty where nobody does.

    ``patience_s`` [s] is how long it waits between two signs of life before it ends the service.
    """

    address: str = ""
    patience_s: float | None = None

    def tell(self, word: str) -> None:
        """Send ``word``; a manager that does not listen changes nothing here."""
        if not self.address:
            return
        # A leading @ stands for the zero byte of an abstract address.
        path = f"\0{self.address[1:]}" if self.address.startswith("@") else self.address
        with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM | socket.SOCK_NONBLOCK) as line:
            try:
                line.sendto(word.encode(), path)
            except OSError:
                return


def manager(environ: Mapping[str, str] | None = None) -> Manager:
    """Return the manager that the environment names."""
    variables = os.environ if environ is None else environ
    address = variables.get("NOTIFY_SOCKET", "")
    if not address.startswith(("/", "@")):
        return Manager()
    return Manager(address, _patience_s(variables))


async def show_life(of: Manager, clock: Clock, is_sound: Callable[[], bool]) -> None:
    """Tell the manager twice within its patience that we live, but only while ``is_sound()``; for ever."""
    if of.patience_s is None:
        return
    never = asyncio.Event()
    while True:
        if is_sound():
            of.tell(ALIVE)
        await clock.wait_until(clock.now_s() + of.patience_s / 2, never)


def _patience_s(variables: Mapping[str, str]) -> float | None:
    microseconds = variables.get("WATCHDOG_USEC", "")
    meant_for = variables.get("WATCHDOG_PID", str(os.getpid()))
    if not microseconds.isdecimal() or int(microseconds) == 0 or meant_for != str(os.getpid()):
        return None
    return int(microseconds) / 1e6
