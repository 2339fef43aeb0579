"""The outermost process: it owns the terminal and lets nothing but red through, whatever dies behind it.

Standard library only; the terminal is red before anything else is imported.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from tui.gate.dark import SharedDark, was_dark
from tui.gate.terminal import Terminal, checked_kind, checked_multiplexer
from tui.gate.wishes import BELL_VARIABLE
from tui.red.blocks import blocks_variable
from tui.red.colours import checked_level

LEVEL_VARIABLE = "EMBERTRAY_RED"


def run(
    argv: Sequence[str],
    *,
    level: int,
    bell: bool = False,
    environ: Mapping[str, str] | None = None,
    still_open: Callable[[], str] | None = None,
    state: Path | None = None,
    unattended: bool = False,
    again: str = "",
    echo: bool = False,
    bar_is_hidden: bool = False,
) -> int:
    """Run a command behind the gate until the person gives the terminal back; return its exit status.

    ``level`` is the brightest red, 1 to 255; ``bell`` lets the terminal's bell sound. ``still_open`` says in
    a few words what may not see light yet, or nothing; while it says something, giving the colours back is
    asked twice. ``state`` is the folder in which a screen that died in the dark left word of it: in the dark
    the gate lets no light through, and Space opens the command again, unseen.
    ``unattended``, where no person is there to type, gives them back when the command ends well. ``again``
    says what Space or Enter does when the command has ended, where that is not to open the screen again.
    ``bar_is_hidden`` says that a multiplexer around us shows nothing of its own.
    ``echo`` shows what is typed before the command sees to that itself. A command ended by a signal counts
    as 128 + its number; a gate ended by one likewise. The terminal gets its colours back for the person's
    word alone: whatever else ends the gate, a fault of its own too, leaves it red, or black in the dark.
    Raises `Refused` without a terminal that can show red. Source: own.
    """
    variables = dict(os.environ if environ is None else environ)
    console = checked_kind(variables.get("TERM", ""))
    cube = checked_multiplexer(variables, level, bar_is_hidden=bar_is_hidden)
    terminal = Terminal(checked_level(level), console=console, cube=cube)
    dark: SharedDark | None = None
    gives_back, status, fault = False, 1, ""
    try:
        dark = SharedDark(dark=state is not None and was_dark(state))
        terminal.take(echo=echo, dark=dark.is_set)
        # Only now, with the terminal red, the rest is worth its import time.
        from tui.gate.gate import Gate

        inside = behind_gate(variables, level, bell=bell) | dark.variable | blocks_variable(terminal.font)
        gate = Gate(terminal, list(argv), inside, dark, bell=bell, still_open=still_open)
        gate.unattended = unattended
        gate.again = again or gate.again
        status = gate.run()
        gives_back = gate.gives_back
    except BaseException as error:  # noqa: BLE001 - a traceback here would be written across the terminal
        fault = _kept(error, state)
    finally:
        is_dark = dark.is_set if dark is not None else state is not None and was_dark(state)
        terminal.leave(gives_back=gives_back, dark=is_dark, words=fault)
    return status


def _kept(error: BaseException, state: Path | None) -> str:
    """Return one line about a fault of the gate itself, and keep its traceback where there is a folder."""
    try:
        from tui.faults import kept

        return kept(error, state, "The gate") if state is not None else f"The gate failed ({error!r})"
    except Exception:  # noqa: BLE001 - the terminal is what matters now
        return "The gate failed."


def behind_gate(variables: Mapping[str, str], level: int, *, bell: bool = False) -> dict[str, str]:
    """Return the environment for a program behind the gate: full colours, none of them its own idea."""
    # A fixed size would stay when the terminal is made another.
    unwanted = {"NO_COLOR", "FORCE_COLOR", "CLICOLOR_FORCE", "COLUMNS", "LINES", BELL_VARIABLE}
    kept = {name: value for name, value in variables.items() if name not in unwanted}
    wanted = {"COLORTERM": "truecolor", "TEXTUAL_COLOR_SYSTEM": "truecolor", "PYTHON_COLORS": "0"}
    return kept | wanted | {LEVEL_VARIABLE: str(level)} | ({BELL_VARIABLE: "1"} if bell else {})
