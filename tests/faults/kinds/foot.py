"""A foot switch that bounces, sticks, or is stamped on."""

from __future__ import annotations

from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage

PRESSES_PER_S = 20.0


def _bounce(stage: Stage, dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    stage.press(*dice.choices("du", k=300))


def _begin(_stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()


def _down(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    stage.press("d")


def _up(stage: Stage, _struck: Struck) -> None:
    stage.press("u")


def _stamp(stage: Stage, struck: Struck) -> None:
    made = struck.notes.setdefault("presses", 0)
    if now_s() - struck.at_s > made / PRESSES_PER_S:
        stage.press("d" if made % 2 == 0 else "u")
        struck.notes["presses"] = made + 1


FAULTS = (
    Fault("foot switch bounces", "one press or none", _bounce, _up),
    Fault("foot switch stuck", "nothing more than one press", _down, _up, lasts_s=(1.0, 3.0)),
    Fault(
        "foot switch stamped on", "presses, each with its meaning", _begin, _up, _stamp, lasts_s=(0.5, 1.5)
    ),
)
