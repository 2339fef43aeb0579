"""Every kind of fault, one small file each."""

from __future__ import annotations

from tests.faults.kinds import (
    callers,
    disk,
    foot,
    heater,
    instrument,
    machine,
    pairs,
    power,
    probe,
    processes,
    terminal,
    typing,
    wall_clock,
)
from tests.faults.kinds.fault import Fault

_ROOMS = (
    processes,
    pairs,
    power,
    wall_clock,
    disk,
    probe,
    instrument,
    heater,
    foot,
    callers,
    machine,
    terminal,
    typing,
)
FAULTS: dict[str, Fault] = {fault.name: fault for room in _ROOMS for fault in room.FAULTS}
