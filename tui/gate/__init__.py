"""The outermost process: it owns the terminal and lets nothing but red through, whatever dies behind it.

Standard library only; the terminal is red before anything else is imported.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence

from tui.gate.terminal import Terminal, checked_kind
from tui.gate.wishes import BELL_VARIABLE
from tui.red.colours import checked_level

LEVEL_VARIABLE = "EMBERTRAY_RED"


def run(
    argv: Sequence[str],
    *,
    level: int,
    bell: bool = False,
    environ: Mapping[str, str] | None = None,
    still_open: Callable[[], str] | None = None,
    is_dark: Callable[[], bool] | None = None,
    unattended: bool = False,
    again: str = "",
) -> int:
    """Run a command behind the gate until the person gives the terminal back; return its exit status.

    ``level`` is the brightest red, 1 to 255; ``bell`` lets the terminal's bell sound. ``still_open`` says in
    a few words what may not see light yet, or nothing; while it says something, giving the colours back is
    asked twice. While ``is_dark`` the gate writes no word of its own: Space opens the command again, unseen.
    ``unattended``, where no person is there to type, gives them back when the command ends well. ``again``
    says what Space or Enter does when the command has ended, where that is not to open the screen again. A
    command ended by a signal counts as 128 + its number; a gate ended by one likewise, and the terminal then
    stays red.
    Raises `Refused` without a terminal that can show red. Source: own.
    """
    variables = dict(os.environ if environ is None else environ)
    terminal = Terminal(checked_level(level), console=checked_kind(variables.get("TERM", "")))
    terminal.take()
    try:
        # Only now, with the terminal red, the rest is worth its import time.
        from tui.gate.gate import Gate

        gate = Gate(
            terminal, list(argv), behind_gate(variables, level, bell=bell), bell=bell, still_open=still_open
        )
        gate.is_dark = is_dark
        gate.unattended = unattended
        gate.again = again or gate.again
        return gate.run()
    finally:
        terminal.give_back()


def behind_gate(variables: Mapping[str, str], level: int, *, bell: bool = False) -> dict[str, str]:
    """Return the environment for a program behind the gate: full colours, none of them its own idea."""
    # A fixed size would stay when the terminal is made another.
    unwanted = {"NO_COLOR", "FORCE_COLOR", "CLICOLOR_FORCE", "COLUMNS", "LINES", BELL_VARIABLE}
    kept = {name: value for name, value in variables.items() if name not in unwanted}
    wanted = {"COLORTERM": "truecolor", "TEXTUAL_COLOR_SYSTEM": "truecolor", "PYTHON_COLORS": "0"}
    return kept | wanted | {LEVEL_VARIABLE: str(level)} | ({BELL_VARIABLE: "1"} if bell else {})
