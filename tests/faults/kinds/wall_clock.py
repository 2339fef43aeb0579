"""The wall clock is set, hours either way, while the bench runs."""

from __future__ import annotations

from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage

LONGEST_h = 30.0


def _set(sign: int) -> object:
    def strike(stage: Stage, dice: Random, struck: Struck) -> None:
        struck.at_s = now_s()
        stage.folder.bent.bend(wall_off_s=sign * dice.uniform(0.2, LONGEST_h) * 3600.0)

    return strike


def _back(stage: Stage, _struck: Struck) -> None:
    stage.folder.bent.bend(wall_off_s=0.0)


OUTCOME = "no timer notices; the book tells both clocks"
FAULTS = (
    Fault("wall clock set forward", OUTCOME, _set(1), _back),  # type: ignore[arg-type]
    Fault("wall clock set back", OUTCOME, _set(-1), _back),  # type: ignore[arg-type]
)
