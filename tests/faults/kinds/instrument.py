"""A serial instrument that hangs up in the middle of a line, or babbles."""

from __future__ import annotations

from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage


def _hang_up(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    stage.instrument.hang_up()


def _babble(stage: Stage, _dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    stage.instrument.mode = "babbles"


def _well(stage: Stage, _struck: Struck) -> None:
    stage.instrument.plug_in()


OUTCOME = "no reading comes of it; the others go on, and so does this once it is well"
FAULTS = (
    Fault("instrument hangs up mid-line", OUTCOME, _hang_up, _well, lasts_s=(0.5, 3.0)),
    Fault("instrument babbles", OUTCOME, _babble, _well, lasts_s=(0.5, 3.0)),
)
