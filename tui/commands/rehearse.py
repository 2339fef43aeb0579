"""``embertray rehearse``: a session on the simulated bench, played by a person or a script."""

from __future__ import annotations

import argparse
import asyncio
import json
import sys

from tui.commands.arguments import named
from tui.commands.rehearsed import readable
from tui.open_screen import add_bar


def add_rehearse(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``embertray rehearse``."""
    parser = commands.add_parser(
        "rehearse",
        help="a session on the simulated bench",
        description="A session on the simulated bench: on the red screen, or played by a script.",
    )
    parser.add_argument("--unattended", action="store_true", help="let a script play the person")
    parser.add_argument(
        "--script", type=named, metavar="FILE", help="the script (TOML) that plays the person"
    )
    parser.add_argument(
        "--trace", type=named, metavar="FILE", help="a recorded temperature: CSV, time_s,bath_degC"
    )
    parser.add_argument("--speed", metavar="N|max", help="how many times faster than real time")
    parser.add_argument("--state", type=named, metavar="DIR", help="keep the journal in this folder")
    parser.add_argument(
        "--demo-book",
        action="store_true",
        help="with an invented season in the book: in the new folder of --state, else for this session",
    )
    add_bar(parser)
    parser.add_argument("--json", action="store_true", help="print the outcome as JSON; no screen")


def run_rehearse(args: argparse.Namespace) -> int:
    """Rehearse."""
    if args.json or not (sys.stdout.isatty() and sys.stdin.isatty()):
        if args.demo_book:
            return _demo_book(args)
        return _without_screen(args)
    from tui.open_screen import rehearse_on_screen

    return rehearse_on_screen(args)


def _demo_book(args: argparse.Namespace) -> int:
    """Write the demo book, with no session on it."""
    from firmware_py.craft.refusal import Refused
    from firmware_py.service.demo import make_demo_book
    from firmware_py.settings.paths import journal_path

    if args.state is None:
        raise Refused("no folder for the book", where="--demo-book", allowed="--state DIR, a new folder")
    if args.unattended or args.script or args.trace:
        raise Refused("a script on it without a screen", where="--demo-book", allowed="--demo-book by itself")
    made = make_demo_book(journal_path(args.state))
    if args.json:
        print(json.dumps(made._asdict(), indent=2, ensure_ascii=False))
    else:
        print("REHEARSAL: an invented season of nobody's; nothing in it ever happened.")
        counts = f"{made.boxes} boxes, {made.runs} runs, {made.prints} prints, {made.events} events"
        print(f"{counts}: {made.journal}")
    return 0


def _without_screen(args: argparse.Namespace) -> int:
    from firmware_py.service.serving import rehearsal_plan, rehearse
    from tui.passing import passing

    with passing(args.state) as session:
        plan = rehearsal_plan(
            state=session.folder,
            script=args.script,
            trace=args.trace,
            speed=args.speed or "max",
            unattended=True,
        )
        came_of_it = asyncio.run(rehearse(plan))
    if args.json:
        print(json.dumps(came_of_it, indent=2, ensure_ascii=False))
    else:
        print("\n".join(readable(came_of_it)))
    return 0
