"""Two of controller, switchboard and guardian struck at once: what the service manager would see too late."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from contextlib import suppress
from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault, Needs
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage

_HOW = {"killed": signal.SIGKILL, "frozen": signal.SIGSTOP}
_FIND: dict[str, Callable[[Stage], int | None]] = {
    "controller": lambda stage: stage.controller.pid if stage.controller is not None else None,
    "switchboard": Stage.switchboard,
    "guardian": Stage.guardian,
}


def _strike(blows: dict[str, str]) -> Callable[[Stage, Random, Struck], None]:
    def strike(stage: Stage, _dice: Random, struck: Struck) -> None:
        found = {process: _FIND[process](stage) for process in blows}
        struck.notes["lamp was lit"] = stage.lamp_is_lit()
        struck.at_s = now_s()
        if None in found.values():
            struck.notes["there was none"] = True
            return
        for process, how in blows.items():
            pid = found[process]
            assert pid is not None
            if process == "controller" and stage.controller is not None:
                stage.controller.signal(_HOW[how])
            else:
                with suppress(ProcessLookupError):
                    os.kill(pid, _HOW[how])
        struck.notes["frozen"] = [found[process] for process, how in blows.items() if how == "frozen"]

    return strike


def _thaw(stage: Stage, struck: Struck) -> None:
    for process in ("controller", "switchboard", "guardian"):
        if f"{process} frozen" in struck.fault:
            stage.evidence.frozen.append((f"{process} frozen", struck.at_s, now_s()))
    for pid in struck.notes.get("frozen", []):
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGCONT)


def _fault(outcome: str, **blows: str) -> Fault:
    name = ", ".join(f"{process} {how}" for process, how in blows.items())
    return Fault(name, outcome, _strike(blows), _thaw, judged_after_s=1.8, needs=Needs.LAMP)


_GUARDED = "the guardian clears the pins within 1.5 s; the bench comes back with its runs"
_STILL_TWO = "every relay off within 1.5 s; another guardian is started"
FAULTS = (
    _fault(_GUARDED, controller="frozen", switchboard="frozen"),
    _fault(_GUARDED, controller="killed", switchboard="frozen"),
    _fault(_GUARDED, controller="frozen", switchboard="killed"),
    _fault(_GUARDED, controller="killed", switchboard="killed"),
    _fault(_STILL_TWO, guardian="killed", controller="frozen"),
    _fault(_STILL_TWO, guardian="frozen", controller="killed"),
    _fault(_STILL_TWO, guardian="frozen", switchboard="killed"),
    _fault(_STILL_TWO, guardian="frozen", switchboard="frozen"),
)
