"""The red screen on a controller, behind the gate; what fails is kept in a file, and one line says so."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from tui.gate.dark import is_dark, say_dark
from tui.gate.still_open import bears_no_light

if TYPE_CHECKING:
    from firmware_py.settings.screen import ScreenSection


def show(
    socket: Path,
    state: Path,
    *,
    leave_when_over: bool = False,
    start: Callable[[], None] | None = None,
    rule: ScreenSection | None = None,
    trouble: str = "",
) -> int:
    """Show the screen on this terminal; whatever fails is kept in a file and said in one line.

    ``start`` starts a controller where none answers any more; ``rule`` is what the settings say of screens;
    ``trouble`` is said for as long as the screen has nothing else to say.
    """
    begins_dark = is_dark(state) or bears_no_light(socket)
    if begins_dark:
        # Before the first import that could fail: what it then writes shows no light.
        say_dark(state)
    try:
        from firmware_py.service.client import Client
        from tui.pulse import gate_pulse
        from tui.screen import EmbertrayScreen

        screen = EmbertrayScreen(
            Client(socket, pulse=gate_pulse()),
            state,
            leave_when_over=leave_when_over,
            start=start,
            begins_dark=begins_dark,
            rule=rule,
            trouble=trouble,
        )
        screen.run(mouse=False)
    except Exception as error:  # noqa: BLE001 - the last place where a fault can still be kept
        from tui.faults import kept

        sys.stderr.write(f"{kept(error, state)}\n")
        return 1
    return screen.return_code or 0
