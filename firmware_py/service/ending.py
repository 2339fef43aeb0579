"""Ending a controller by a command: what speaks against it, and waiting until it is gone."""

from __future__ import annotations

import os
import select
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from firmware_py.bench.controller import Controller
from firmware_py.craft.refusal import DeviceTrouble, NotNow
from firmware_py.facts.views.bench import BenchView
from firmware_py.service.messages import End
from firmware_py.service.talk import Talk, talk_with

# A controller closes its book and has the switchboard make the relays safe within this.
GONE_S = 20.0
ANYWAY = "--anyway"


@dataclass(frozen=True, slots=True)
class Running:
    """A controller that runs: its process, its version, whether a service manager runs it, and its bench."""

    pid: int
    program: str
    is_managed: bool
    bench: BenchView


def require_may_end(controller: Controller) -> None:
    """Refuse to end a controller while a real plate is open, or its lamp lit for one; say how it is done."""
    if controller.bench.plan.rehearsal:
        return
    allowed = f"fix it first; to end it all the same: the command again with {ANYWAY}"
    for plate in controller.bench.open_plates():
        what = f"plate {plate.plate!r} is open in tray {plate.lane} ({plate.place}): its timer would stop"
        raise NotNow(what, where="stop", allowed=allowed)
    if controller.lit_for is not None:
        raise NotNow("an exposure is running: it would be cut short", where="stop", allowed=allowed)


def running(path: Path) -> Running | None:
    """Return the controller at a socket, None where none runs. Raises Refused where it may not be asked."""
    try:
        with talk_with(path) as talk:
            return _asked(talk)
    except (FileNotFoundError, ConnectionRefusedError):
        return None


def end_controller(path: Path, *, anyway: bool) -> bool:
    """End the controller at a socket, and wait until its process is gone; return whether one ran.

    Raises Refused where a plate is open, unless ``anyway``, or where it does not end within `GONE_S` [s].
    """
    try:
        with talk_with(path) as talk:
            talk.greet("stop")
            process = _process(talk.pid)
            talk.send(End(ticket=1, anyway=anyway))
            talk.wait_until_done()
    except (FileNotFoundError, ConnectionRefusedError):
        return False
    _wait_until_gone(process, path)
    return True


def _asked(talk: Talk) -> Running:
    welcome = talk.greet("status")
    return Running(talk.pid, welcome.program, welcome.managed, talk.look())


def _process(pid: int) -> int | None:
    """Return what becomes readable when a process ends; None where it has ended already."""
    with suppress(ProcessLookupError):
        return os.pidfd_open(pid)
    return None


def _wait_until_gone(process: int | None, path: Path) -> None:
    if process is None:
        return
    try:
        gone, _, _ = select.select([process], [], [], GONE_S)
    finally:
        os.close(process)
    if not gone:
        raise DeviceTrouble(f"the controller did not end within {GONE_S:g} s", where=str(path))
