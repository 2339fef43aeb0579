"""The person's terminal: closed under the screen, made tiny, opened again, typed on at random."""

from __future__ import annotations

import os
import signal
from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault, Needs
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage

TINY, USUAL = (5, 20), (24, 80)
# Everything but what asks for the colours back, which would end the red rule by the person's own word.
KEYS = (
    "h",
    "x",
    "+",
    "-",
    "\x1b[C",
    "\x1b[D",
    "n",
    "\x1b",
    "t",
    "b",
    "m",
    "o",
    "\r",
    "1",
    "\x1b[6~",
    "s",
    " ",
)


def _close(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    if stage.terminal is not None:
        stage.terminal.hang_up()


def _open(stage: Stage, _struck: Struck) -> None:
    if stage.terminal is not None:
        stage.terminal.open()


def _shrink(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    if stage.terminal is not None:
        stage.terminal.resize(*TINY)


def _grow(stage: Stage, _struck: Struck) -> None:
    if stage.terminal is not None:
        stage.terminal.resize(*USUAL)


def _mash(stage: Stage, dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    if stage.terminal is not None:
        stage.terminal.press("".join(dice.choices(KEYS, k=30)))


def _spoil(stage: Stage, dice: Random, struck: Struck) -> None:
    """Leave half a settings file, and kill the screen that a gate would ask it about."""
    struck.at_s = now_s()
    whole = stage.folder.config.read_bytes()
    struck.notes["settings"] = whole
    stage.folder.config.write_bytes(whole[: dice.randrange(1, len(whole))] + b"\n[")
    if stage.terminal is not None:
        for child in stage.terminal.children():
            os.kill(child, signal.SIGKILL)


def _restore(stage: Stage, struck: Struck) -> None:
    """Write the settings whole again, and have the screen opened."""
    stage.folder.config.write_bytes(struck.notes["settings"])
    if stage.terminal is not None:
        stage.terminal.press(" ")


FAULTS = (
    Fault("terminal closed", "screen and gate end; runs go on", _close, _open, needs=Needs.SCREEN),
    Fault("terminal made 20 by 5", "red, and whole again afterwards", _shrink, _grow, needs=Needs.SCREEN),
    Fault(
        "settings spoilt, screen killed",
        "the terminal stays red; the screen opens again",
        _spoil,
        _restore,
        needs=Needs.SCREEN,
    ),
    Fault("keys at random", "red; what they mean is done or refused", _mash, needs=Needs.SCREEN),
)
