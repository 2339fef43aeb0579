"""``embertray commission``: brings up real hardware step by step, measuring; writes bench.toml at the end."""

from __future__ import annotations

import argparse
import sys

from tui.commands.arguments import named

AGAIN = "Space or Enter: once more from the first step."
STEPS = ("relays", "probes", "ice", "foot", "timing", "fog", "lag")


def add_commission(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``embertray commission``."""
    parser = commands.add_parser(
        "commission",
        help="bring up real hardware step by step, measuring",
        description="Lead through the bench with its controller stopped: click each relay, tell the probes "
        "apart, measure the foot switch, the timing and the lamp's lag; then write a report and bench.toml.",
    )
    parser.add_argument("--config", type=named, metavar="FILE", help="the bench.toml to begin from")
    parser.add_argument(
        "--write", type=named, metavar="FILE", help="write bench.toml there, not over the old"
    )
    parser.add_argument("--report", type=named, metavar="FILE", help="write the report there")
    parser.add_argument("--step", action="append", choices=STEPS, help="this step alone; may be repeated")
    parser.add_argument("--rehearsal", action="store_true", help="on the simulated bench")


def run_commission(args: argparse.Namespace) -> int:
    """Commission: on a terminal behind the gate, for the room is dark; else with answers from a pipe."""
    if sys.stdin.isatty() and sys.stdout.isatty():
        from tui import gate
        from tui.gate.wishes import wishes

        talk_words = [sys.executable, "-m", "tui.commands.commission_talk", *_words(args)]
        return gate.run(talk_words, level=wishes().level, again=AGAIN, echo=True)
    from tui.commands.commission_talk import talk

    return talk(args)


def _words(args: argparse.Namespace) -> list[str]:
    words = ["--rehearsal"] if args.rehearsal else []
    for name in ("config", "write", "report"):
        if (path := getattr(args, name)) is not None:
            words += [f"--{name}", str(path)]
    return words + [word for step in args.step or () for word in ("--step", step)]
