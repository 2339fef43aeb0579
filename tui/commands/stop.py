"""``embertray stop``: ends the controller in good order; not while a plate is open, unless told twice."""

from __future__ import annotations

import argparse
import json

from firmware_py.craft.refusal import Refused
from tui.commands.arguments import named


def add_stop(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``embertray stop``."""
    parser = commands.add_parser(
        "stop",
        help="end the controller in good order",
        description="End the controller in good order: its book closed, its relays in their safe state.",
    )
    declare_ending(parser)


def declare_ending(parser: argparse.ArgumentParser) -> None:
    """Declare what every command that ends a controller takes."""
    parser.add_argument("--socket", type=named, metavar="PATH", help="the controller that listens there")
    parser.add_argument("--anyway", action="store_true", help="also while a plate is open: its timer stops")
    parser.add_argument("--json", action="store_true", help="print what was done as JSON")


def run_stop(args: argparse.Namespace) -> int:
    """End the controller; returns 0. Raises Refused while a plate is open, or under a service manager."""
    from firmware_py.service.ending import end_controller, running
    from firmware_py.service.place import bench_place

    path = args.socket or bench_place().socket
    found = running(path)
    if found is not None and found.is_managed:
        allowed = "systemctl stop embertray, or embertray restart"
        raise Refused("the service manager runs it, and would start it again", where="stop", allowed=allowed)
    ran = end_controller(path, anyway=args.anyway)
    if args.json:
        print(json.dumps({"stopped": ran, "socket": str(path)}))
    else:
        print(f"The controller at {path} has ended" if ran else f"No controller runs at {path}")
    return 0
