"""``embertray serve``: the controller in the foreground, of the configured bench or of the simulated one."""

from __future__ import annotations

import argparse
import asyncio
import json

from tui.commands.arguments import named, seconds


def add_serve(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``embertray serve``."""
    parser = commands.add_parser(
        "serve",
        help="run the controller of the configured bench in the foreground",
        description="Run the controller in the foreground: of the bench that bench.toml describes, or, with "
        "--rehearsal, of the simulated one.",
    )
    parser.add_argument("--config", type=named, metavar="FILE", help="the bench.toml that counts")
    parser.add_argument("--state", type=named, metavar="DIR", help="keep the journal in this folder")
    parser.add_argument("--socket", type=named, metavar="PATH", help="listen there")
    parser.add_argument("--rehearsal", action="store_true", help="serve the simulated bench")
    parser.add_argument(
        "--script", type=named, metavar="FILE", help="rehearsal: what plays the person (TOML)"
    )
    parser.add_argument("--trace", type=named, metavar="FILE", help="rehearsal: a recorded temperature (CSV)")
    parser.add_argument("--speed", default="1", metavar="N|max", help="rehearsal: so much faster than life")
    parser.add_argument("--unattended", action="store_true", help="rehearsal: play the shipped script")
    parser.add_argument(
        "--alone", type=seconds, metavar="S", help="end when no screen has been open for so many seconds"
    )


def run_serve(args: argparse.Namespace) -> int:
    """Serve until told to stop. A rehearsal prints its outcome (JSON) when it is over."""
    from firmware_py.service.logs import logging_to_stderr
    from firmware_py.service.serving import Place, serve_bench, serve_rehearsal

    place = Place(state=args.state, socket=args.socket, alone_s=args.alone)
    with logging_to_stderr():
        if not args.rehearsal:
            asyncio.run(serve_bench(args.config, place))
            return 0
        came_of_it = asyncio.run(
            serve_rehearsal(
                place, script=args.script, trace=args.trace, speed=args.speed, unattended=args.unattended
            )
        )
    print(json.dumps(came_of_it, ensure_ascii=False))
    return 0
