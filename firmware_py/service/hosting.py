"""Runs a controller with its socket until it is told to go, and takes up the runs that were left open."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from firmware_py.bench.controller import Controller
from firmware_py.bench.lamp.print_resume import Traces
from firmware_py.bench.wiring import last_words_path
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.probe_record import ProbeRecord
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.service.bookshelf import Bookshelf
from firmware_py.service.notify import READY, STOPPING, manager, show_life
from firmware_py.service.plate_resume import take_up_plates
from firmware_py.service.server import Service
from firmware_py.switchboard.last_words import read_last_words

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


def take_up_open_runs(controller: Controller, journal: Journal) -> None:
    """Give the bench what its journal knows: open runs, baths, probes, the book of plates, the print.

    What can not be replayed is left where it is and said so; the others go on.
    """
    _take_up_baths(controller, journal)
    _take_up_probes(controller, journal)
    take_up_plates(
        controller.bench.plates,
        journal,
        lambda words, subject: controller.bench.trouble("damaged plate", words, about=subject),
    )
    for row in journal.open_runs():
        try:
            controller.bench.runs.resume(RunRecord.replay(journal.read(row.run_id)))
        except Refused as refusal:
            controller.bench.trouble("damaged run", f"A run cannot be read from the journal: {refusal.line}")
    _take_up_open_prints(controller, journal)


def _take_up_open_prints(controller: Controller, journal: Journal) -> None:
    side = controller.bench.lamp_side
    side.printing.programs.learn(journal.programs())
    boot_id, alive_s = journal.last_moment() or ("", 0.0)
    words = read_last_words(last_words_path(journal.path))
    records = []
    for row in journal.open_prints():
        try:
            records.append(PrintRecord.replay(journal.read(row.print_id)))
        except Refused as refusal:
            controller.bench.trouble(
                "damaged print", f"A print cannot be read from the journal: {refusal.line}"
            )
    side.resume(records, Traces(boot_id, alive_s, words))


def _take_up_baths(controller: Controller, journal: Journal) -> None:
    for row in journal.open_baths():
        try:
            controller.bench.upkeep.baths.resume(BathRecord.replay(journal.read(row.bath_id)))
        except Refused as refusal:
            words = f"Bath {row.name} cannot be read from the journal: {refusal.line}"
            controller.bench.trouble("damaged bath", words, about=row.bath_id)


def _take_up_probes(controller: Controller, journal: Journal) -> None:
    for subject in journal.subjects("ProbeMet"):
        try:
            controller.bench.upkeep.probes.resume(ProbeRecord.replay(journal.read(subject)))
        except Refused as refusal:
            words = f"The calibration of a probe cannot be read from the journal: {refusal.line}"
            controller.bench.trouble("damaged probe", words, about=subject)


async def _leave_when_alone(controller: Controller, service: Service | None, alone_s: float | None) -> None:
    if service is None or alone_s is None:
        return
    while not await service.is_alone_for(alone_s):
        pass
    controller.stop("no screen was open any more")
