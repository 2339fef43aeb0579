"""What runs behind the gate: find the bench, see that it runs, show it."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from firmware_py.craft.refusal import Refused
from firmware_py.service.place import BenchPlace, bench_place, see_that_it_runs
from firmware_py.service.starting import answers
from firmware_py.settings.screen import ScreenSection
from tui.app import show
from tui.first_light import ask_at_first_start
from tui.gate.dark import is_dark
from tui.gate.still_open import bears_no_light

GOES_ON = "The controller goes on without a screen: embertray status, embertray stop"


def found_place(args: argparse.Namespace) -> BenchPlace:
    """Return where the screen is to look, and see that a controller runs there unless it was named.

    Settings that cannot be read any more keep no screen from a bench that runs: it is where the gate knew it.
    Raises Refused.
    """
    try:
        place = replace(bench_place(args.config), state=args.state, socket=args.socket)
        if args.starts:
            see_that_it_runs(place)
    except Refused as refusal:
        if not answers(args.socket):
            raise
        return BenchPlace(args.config, args.state, args.socket, ScreenSection(), refusal.line)
    return place


def main(arguments: Sequence[str] | None = None) -> int:
    """Open the screen. Returns its exit status, 1 with one line on stderr if it was refused."""
    args = _parser().parse_args(arguments)
    try:
        place = found_place(args)
    except Refused as refusal:
        sys.stderr.write(f"embertray: {refusal.line}\n")
        return 1
    start: Callable[[], None] | None = None
    if args.starts:
        # Who was given a socket may be a board without a keyboard: that is asked nothing.
        start = partial(see_that_it_runs, place)
        ask_at_first_start(
            place.state,
            place.screen.brightest,
            is_dark=lambda: is_dark(place.state) or bears_no_light(place.socket),
        )
    status = show(
        place.socket,
        place.state,
        leave_when_over=args.leave_when_over,
        start=start,
        rule=place.screen,
        trouble=place.trouble,
    )
    if args.starts and answers(place.socket):
        sys.stdout.write(f"{GOES_ON}\n")
    return status


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tui.session", description="The screen behind the gate.")
    parser.add_argument("--state", type=Path, required=True, metavar="DIR")
    parser.add_argument("--socket", type=Path, required=True, metavar="PATH")
    parser.add_argument("--config", type=Path, metavar="FILE")
    parser.add_argument("--starts", action="store_true", help="start a controller where none answers")
    parser.add_argument("--leave-when-over", action="store_true", help="leave when the controller does")
    return parser


if __name__ == "__main__":
    sys.exit(main())
