"""A verdict from the command line: by the controller that runs, or into the journal itself."""

from __future__ import annotations

from pathlib import Path

from firmware_py.devices.clock import BootClock
from firmware_py.facts.acts.book import JudgePlate
from firmware_py.journal.judging import judge
from firmware_py.journal.store import Journal
from firmware_py.service.one_act import ask_controller
from firmware_py.service.starting import answers


def keep_verdict(act: JudgePlate, journal: Path, socket: Path | None) -> None:
    """Keep a verdict; return when it is in the book.

    Where a controller listens at ``socket`` it is asked, else the journal is written, whose lock keeps every
    other writer out. Raises Refused with the words of either.
    """
    if socket is not None and answers(socket):
        ask_controller(socket, act)
        return
    with Journal.open(journal) as book:
        judge(book, act.run, act.plate, act.verdict, BootClock())
