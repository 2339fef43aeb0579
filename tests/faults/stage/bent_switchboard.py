"""Runs the switchboard, or what clears the pins, under a bent boot clock or with a planted defect."""

from __future__ import annotations

import os
import runpy
import sys

from tests.faults.stage.seams import BOOT_OFFSET, DEFECT, bend_clocks, bend_timers

if __name__ == "__main__":
    offset_s = float(os.environ[BOOT_OFFSET])
    bend_clocks(offset_s)
    bend_timers(offset_s)
    if DEFECT in os.environ:
        from tests.faults.planted import plant_in_switchboard

        plant_in_switchboard(os.environ[DEFECT])
    module = sys.argv[1]
    del sys.argv[1]
    runpy.run_module(module, run_name="__main__", alter_sys=True)
