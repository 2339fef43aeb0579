"""Power cut: everything at once; what was not yet on the disk is lost, and the machine starts anew."""

from __future__ import annotations

import os
import signal
from contextlib import suppress
from random import Random

from tests.faults.evidence import Struck
from tests.faults.eyes.unsynced import lose_unsynced
from tests.faults.kinds.fault import Fault, Needs
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage

# A board's boot clock begins anew; its controller is up some seconds later.
UP_S = 20.0
HOURS_s = 3600.0


def _cut(stage: Stage, dice: Random, struck: Struck) -> None:
    stage.manages = False
    switchboard = stage.switchboard()
    struck.at_s = struck.notes["cut_s"] = now_s()
    for pid in filter(None, (switchboard, stage.controller.pid if stage.controller else None)):
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGKILL)
    if stage.controller is not None:
        stage.controller.told = True
        stage.controller.wait(5.0)
    if stage.mouth is not None:
        stage.mouth.process.signal(signal.SIGKILL)
    if stage.terminal is not None:
        for pid in (*stage.terminal.children(), stage.terminal.pid):
            with suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        stage.terminal.hang_up()
    struck.notes["pages lost"] = lose_unsynced(stage.folder.state)
    stage.folder.begin_machine(UP_S - now_s())
    if dice.random() < 0.5:  # a board without a battery clock wakes up in the past
        stage.folder.bent.bend(wall_off_s=-dice.uniform(2.0, 20_000.0) * HOURS_s)


def _back(stage: Stage, struck: Struck) -> None:
    stage.manages = True
    if stage.terminal is not None:
        stage.terminal.open()


FAULTS = (
    Fault(
        "power cut",
        "every acknowledged event is in the book; runs wait for a person to say how long they lay",
        _cut,
        _back,
        lasts_s=(0.2, 0.6),
        needs=Needs.LAMP,
    ),
)
