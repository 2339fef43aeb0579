"""Runs the gate, and the screen behind it, with a defect planted in either."""

from __future__ import annotations

import os
import runpy
import sys
from typing import Any

from tests.faults.stage.seams import DEFECT

SCREEN = "tui.session"


def _gate() -> int:
    """Run the product's gate, but let it start the screen through this module."""
    from tests.faults.planted import plant_in_gate
    from tui.cli import main
    from tui.gate import gate

    plant_in_gate(os.environ[DEFECT])

    child = vars(gate)["Child"]

    def bent(argv: list[str], *rest: Any, **more: Any) -> Any:
        at = argv.index(SCREEN)
        return child([*argv[:at], __spec__.name, *argv[at:]], *rest, **more)

    vars(gate)["Child"] = bent
    return main(sys.argv[1:])


if __name__ == "__main__":
    if sys.argv[1] != SCREEN:
        sys.exit(_gate())
    from tests.faults.planted import plant_in_screen

    plant_in_screen(os.environ[DEFECT])
    del sys.argv[1]
    runpy.run_module(SCREEN, run_name="__main__", alter_sys=True)
