"""What a fresh interpreter loads: the small processes stay small."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = (
    "textual",
    "rich",
    "numpy",
    "scipy",
    "matplotlib",
    "jinja2",
    "pvlib",
    "pandas",
    "astral",
    "dateparser",
)


def loaded(statement: str) -> set[str]:
    """Return the top-level modules that a statement loads in an interpreter of its own."""
    code = f"{statement}\nimport sys\nprint(*sorted({{m.partition('.')[0] for m in sys.modules}}))"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(said.stdout.split())


@pytest.mark.parametrize(
    ("statement", "unwanted"),
    [
        ("import tui.cli", (*HEAVY, "msgspec", "pint", "gpiozero", "asyncio")),
        ("import tui.gate", (*HEAVY, "msgspec", "pint", "gpiozero", "asyncio", "argparse")),
        ("import firmware_py.service.serving", (*HEAVY, "gpiozero")),
        ("import tui.commands.logbook.sheet, tui.commands.logbook.runs, tui.commands.logbook.keeping", HEAVY),
        ("import firmware_py.switchboard.__main__", (*HEAVY, "msgspec", "pint", "asyncio")),
    ],
)
def test_a_start_loads_nothing_heavy(statement: str, unwanted: tuple[str, ...]):
    """Each process loads what it needs and no more."""
    assert loaded(statement) & set(unwanted) == set()
