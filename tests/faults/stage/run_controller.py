"""What the forked process is: the product's own ``embertray serve``, after the seams are laid."""

from __future__ import annotations

import asyncio  # noqa: F401 - warmed before the fork
from collections.abc import Callable
from pathlib import Path

import gpiozero.pins.mock  # noqa: F401 - the same
import simple_pid  # noqa: F401 - the same

import tui.commands.serve  # noqa: F401 - the same
from firmware_py.data.formulary import shipped_formulas
from firmware_py.devices import gpio_foot_switch  # noqa: F401 - the same
from tui.cli import main


def warm() -> None:
    """Import and read, before any fork, what every controller would import and read for itself."""
    shipped_formulas()


def run_controller(config: Path, lay_seams: Callable[[], None], defect: str) -> int:
    """Serve the configured bench until the end; return the exit status."""
    lay_seams()
    if defect:
        from tests.faults.planted import plant_in_controller

        plant_in_controller(defect)
    return main(["serve", "--config", str(config)])
