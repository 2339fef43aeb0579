"""``python -m tui.app --socket PATH``: the red screen on a controller that runs, always behind the gate."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from firmware_py.craft.refusal import Refused
from tui.gate import LEVEL_VARIABLE, run
from tui.gate.dark import is_dark
from tui.gate.still_open import bears_no_light, still_open
from tui.gate.wishes import UNTESTED_RED

LEVEL = UNTESTED_RED

if TYPE_CHECKING:
    from firmware_py.settings.screen import ScreenSection


def main(arguments: Sequence[str] | None = None) -> int:
    """Open the screen. Returns its exit status, 1 with one line on stderr if it was refused."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    args = _parser().parse_args(given)
    try:
        if LEVEL_VARIABLE not in os.environ:
            return run(
                [sys.executable, "-m", "tui.app", *given],
                level=args.level,
                bell=args.bell,
                still_open=lambda: still_open(args.socket),
                is_dark=lambda: is_dark(args.state or args.socket.parent),
            )
    except Refused as refusal:
        sys.stderr.write(f"embertray: {refusal.line}\n")
        return 1
    return show(args.socket, args.state or args.socket.parent, leave_when_over=args.leave_when_over)


def show(
    socket: Path,
    state: Path,
    *,
    leave_when_over: bool = False,
    start: Callable[[], None] | None = None,
    rule: ScreenSection | None = None,
) -> int:
    """Show the screen on this terminal; whatever fails is kept in a file and said in one line.

    ``start`` starts a controller where none answers any more; ``rule`` is what the settings say of screens.
    """
    try:
        from firmware_py.service.client import Client
        from tui.pulse import gate_pulse
        from tui.screen import EmbertrayScreen

        screen = EmbertrayScreen(
            Client(socket, pulse=gate_pulse()),
            state,
            leave_when_over=leave_when_over,
            start=start,
            begins_dark=is_dark(state) or bears_no_light(socket),
            rule=rule,
        )
        screen.run(mouse=False)
    except Exception as error:  # noqa: BLE001 - the last place where a fault can still be kept
        from tui.faults import kept

        line = kept(error, state)
        if not is_dark(state):
            sys.stderr.write(f"{line}\n")
        return 1
    return screen.return_code or 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tui.app", description="The red screen.")
    add = parser.add_argument
    add("--socket", type=Path, required=True, metavar="PATH", help="where the controller listens")
    add("--state", type=Path, metavar="DIR", help="keeps brightness and faults (beside the socket)")
    add("--level", type=int, default=LEVEL, metavar="1-255", help=f"brightest red ({LEVEL})")
    add("--bell", action="store_true", help="let the terminal's bell sound what the bench sounds")
    add("--leave-when-over", action="store_true", help="leave when the controller does")
    return parser


if __name__ == "__main__":
    sys.exit(main())
