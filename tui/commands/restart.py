"""``embertray restart``: ends the controller and starts it again, so that it reads its settings anew."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from firmware_py.craft.refusal import Refused
from tui.commands.stop import declare_ending


def add_restart(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``embertray restart``."""
    parser = commands.add_parser(
        "restart",
        help="start the controller again, with its settings read anew",
        description="End the controller in good order and start it again, with its settings read anew. Wrong "
        "settings are refused before anything ends.",
    )
    declare_ending(parser)


def run_restart(args: argparse.Namespace) -> int:
    """Start the controller again; returns 0. Raises Refused for wrong settings, or while a plate is open."""
    from firmware_py.service.ending import end_controller, running
    from firmware_py.service.place import bench_place, see_that_it_runs
    from firmware_py.service.starting import wait_until_it_answers

    place = bench_place()  # wrong settings are said here
    path: Path = args.socket or place.socket
    before = running(path)
    if args.socket is not None and path != place.socket and (before is None or not before.is_managed):
        raise Refused("its settings are not those of this user", where=str(path), allowed=str(place.socket))
    end_controller(path, anyway=args.anyway)
    if before is not None and before.is_managed:
        wait_until_it_answers(path)
    else:
        see_that_it_runs(place)
    now = running(path)
    if args.json:
        done = {"restarted": before is not None, "socket": str(path), "pid": now.pid if now else None}
        print(json.dumps(done))
    else:
        again = " again" if before else ""
        print(f"The controller at {path} runs{again}{f' (process {now.pid})' if now else ''}")
    return 0
