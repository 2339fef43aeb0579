"""The heater's relay welded, and a heater that is dead."""

from __future__ import annotations

from random import Random
from typing import Literal

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault, Needs
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage


def _become(what: Literal["welded", "dead"]) -> object:
    def strike(stage: Stage, _dice: Random, struck: Struck) -> None:
        struck.at_s = now_s()
        stage.water.heater = what

    return strike


def _well(stage: Stage, _struck: Struck) -> None:
    stage.water.heater = "well"


FAULTS = (
    Fault(
        "heater relay welded",
        "the heater is off above its limit, and the page says to pull the plug",
        _become("welded"),  # type: ignore[arg-type]
        _well,
        lasts_s=(1.0, 3.0),
        needs=Needs.HEAT,
    ),
    Fault(
        "heater dead",
        "the heater is put off once its time to warm is up",
        _become("dead"),  # type: ignore[arg-type]
        _well,
        lasts_s=(1.0, 3.0),
        needs=Needs.HEAT,
    ),
)
