"""Each process killed, frozen, or told to end, at any moment."""

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

KILL, STOP, TERM = signal.SIGKILL, signal.SIGSTOP, signal.SIGTERM


def _controller(stage: Stage) -> int | None:
    return stage.controller.pid if stage.controller is not None else None


def _client(stage: Stage) -> int | None:
    return stage.mouth.process.pid if stage.mouth is not None else None


def _screen(stage: Stage) -> int | None:
    behind = stage.terminal.children() if stage.terminal is not None else []
    return behind[0] if behind else None


def _gate(stage: Stage) -> int | None:
    return stage.terminal.pid if stage.terminal is not None else None


def _strike(find: Callable[[Stage], int | None], number: signal.Signals) -> Callable[..., None]:
    def strike(stage: Stage, _dice: Random, struck: Struck) -> None:
        pid = find(stage)
        struck.notes["lamp was lit"] = stage.lamp_is_lit()
        struck.at_s = now_s()
        if pid is None:
            struck.notes["there was none"] = True
            return
        struck.notes["pid"] = pid
        told = {_controller(stage): stage.controller, _client(stage): stage.mouth and stage.mouth.process}
        if told.get(pid) is not None:
            told[pid].signal(number)  # type: ignore[union-attr]
        else:
            with suppress(ProcessLookupError):
                os.kill(pid, number)

    return strike


def _thaw(stage: Stage, struck: Struck) -> None:
    pid = struck.notes.get("pid")
    if pid is not None:
        stage.evidence.frozen.append((struck.fault, struck.at_s, now_s()))
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGCONT)


def _open_again(stage: Stage, _struck: Struck) -> None:
    """The person at a screen that ended: Enter opens it again."""
    if stage.terminal is not None:
        stage.terminal.press("\r")


def _thaw_screen(stage: Stage, struck: Struck) -> None:
    _thaw(stage, struck)
    _open_again(stage, struck)


def _new_terminal(stage: Stage, _struck: Struck) -> None:
    if stage.terminal is not None:
        stage.terminal.hang_up()
        stage.terminal.open()


def _thaw_gate(stage: Stage, struck: Struck) -> None:
    _thaw(stage, struck)
    if struck.fault != "gate frozen":
        _new_terminal(stage, struck)


NO_CONTROLLER = r"(?i)controller does not answer"
FAULTS = (
    Fault(
        "controller killed",
        "every relay off within 1.1 s; the next start goes on with the runs, exactly",
        _strike(_controller, KILL),
        needs=Needs.LAMP,
    ),
    Fault(
        "controller frozen",
        "every relay off within 1.1 s; timers are right once it goes on",
        _strike(_controller, STOP),
        _thaw,
        lasts_s=(0.2, 2.0),
        needs=Needs.LAMP,
    ),
    Fault(
        "controller frozen for long",
        "the same, and the page says that it does not answer",
        _strike(_controller, STOP),
        _thaw,
        judged_after_s=2.1,
        needs=Needs.PLATE | Needs.SCREEN,
        says=NO_CONTROLLER,
    ),
    Fault(
        "controller told to end",
        "every relay off; it says goodbye in the book and ends with status 0",
        _strike(_controller, TERM),
        needs=Needs.LAMP,
    ),
    Fault(
        "switchboard killed",
        "every relay off within 1.1 s, cleared by a fresh process; another switchboard is started",
        _strike(Stage.switchboard, KILL),
        judged_after_s=2.4,
        needs=Needs.LAMP | Needs.PLATE,
        says=r"switchboard",
        known_after_s=0.3,
    ),
    Fault(
        "switchboard frozen",
        "it is killed, every relay off within 1.1 s; another is started",
        _strike(Stage.switchboard, STOP),
        _thaw,
        lasts_s=(0.2, 1.5),
        needs=Needs.LAMP,
    ),
    Fault(
        "switchboard told to end",
        "every relay off at once; another is started",
        _strike(Stage.switchboard, TERM),
        needs=Needs.LAMP,
    ),
    Fault("guardian killed", "another one guards the same switchboard", _strike(Stage.guardian, KILL)),
    Fault(
        "guardian frozen",
        "it is killed, and another one guards the same switchboard",
        _strike(Stage.guardian, STOP),
        _thaw,
        lasts_s=(0.5, 2.0),
    ),
    Fault(
        "client killed",
        "what it lit is off within 1.1 s; runs go on",
        _strike(_client, KILL),
        needs=Needs.LAMP,
    ),
    Fault(
        "client frozen",
        "what it lit is off within 1.1 s; runs go on",
        _strike(_client, STOP),
        _thaw,
        lasts_s=(0.2, 2.0),
        needs=Needs.LAMP,
    ),
    Fault("client told to end", "as killed", _strike(_client, TERM), needs=Needs.LAMP),
    Fault(
        "screen killed",
        "the gate stays red and says so; runs go on; Enter opens it again",
        _strike(_screen, KILL),
        _open_again,
        needs=Needs.SCREEN,
    ),
    Fault(
        "screen frozen",
        "the gate takes the terminal and asks; runs go on",
        _strike(_screen, STOP),
        _thaw_screen,
        needs=Needs.SCREEN,
    ),
    Fault(
        "screen told to end",
        "the gate stays red and asks",
        _strike(_screen, TERM),
        _open_again,
        needs=Needs.SCREEN,
    ),
    Fault(
        "gate killed",
        "the screen behind it ends; runs go on; a new terminal shows them",
        _strike(_gate, KILL),
        _new_terminal,
        needs=Needs.SCREEN,
    ),
    Fault(
        "gate frozen",
        "what the screen lit goes out; runs go on",
        _strike(_gate, STOP),
        _thaw_gate,
        needs=Needs.SCREEN,
    ),
    Fault(
        "gate told to end",
        "the terminal stays red; runs go on",
        _strike(_gate, TERM),
        _new_terminal,
        needs=Needs.SCREEN,
    ),
)
