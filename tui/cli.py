"""The command line: reads what is wanted and loads only what that needs."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from contextlib import suppress
from importlib import import_module

from firmware_py import __version__
from firmware_py.craft.refusal import Refused, plain
from tui.open_screen import add_screen, open_screen

# command -> (module, what it does, for the help). The module has ``add_COMMAND(commands)``, which
# declares it, and ``run_COMMAND(args) -> int``.
COMMANDS: dict[str, tuple[str, str]] = {
    "serve": ("tui.commands.serve", "run the controller of the configured bench in the foreground"),
    "status": ("tui.commands.status", "say whether a controller runs, and what is open on its bench"),
    "stop": ("tui.commands.stop", "end the controller in good order"),
    "restart": ("tui.commands.restart", "start the controller again, with its settings read anew"),
    "rehearse": ("tui.commands.rehearse", "a session on the simulated bench"),
    "reckon": ("tui.commands.reckonings.command", "the craft's calculators"),
    "daylight": ("tui.commands.reckonings.daylight", "camera exposure for a place, a date and an hour"),
    "mix": ("tui.commands.reckonings.mix", "a mixing card for a formula"),
    "logbook": ("tui.commands.logbook.command", "the book of runs"),
    "commission": ("tui.commands.commission", "bring up real hardware step by step, measuring"),
    "check": ("tui.commands.check", "read settings, formulas and routines, and say what is wrong"),
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; whatever this machine lacks for it, its end is one line on stderr.

    Returns 0 done, 1 refused, 2 wrong usage, 130 interrupted.
    """
    try:
        return _run(arguments)
    except KeyboardInterrupt:
        words, code = "interrupted", 130
    except MemoryError:
        words, code = "not enough memory", 1
    except (OSError, ImportError) as error:  # no file can be opened any more, no module loaded
        words, code = plain(" ".join(str(error).split())), 1
    with suppress(OSError):
        print(f"embertray: {words}", file=sys.stderr)
    return code


def _run(arguments: Sequence[str] | None) -> int:
    """Run one command. Returns 0 done, 1 refused with one line on stderr, 2 wrong usage."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    parser = _parser(given)
    try:
        args = parser.parse_args(given)
        if args.command is not None and not hasattr(args, "run"):
            parser.error(f"the command stands first: embertray {args.command} ...")
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else 2
    try:
        result: int = getattr(args, "run", open_screen)(args)
    except Refused as refusal:
        print(f"embertray: {refusal.line}", file=sys.stderr)
        return 1
    except BrokenPipeError:
        # Whoever read our output has gone; nothing more can be said there.
        sys.stderr.close()
        return 1
    return result


def _parser(given: Sequence[str]) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="embertray",
        description="Runs the red-lit bench of a photographer who works with glass dry plates. "
        "Without a command it opens the screen.",
    )
    parser.add_argument("--version", action="version", version=f"embertray {__version__}")
    commands = parser.add_subparsers(metavar="COMMAND", title="commands", dest="command")
    wanted = given[0] if given else None
    if wanted not in COMMANDS:
        add_screen(parser)
    for name, (module, summary) in COMMANDS.items():
        if name != wanted:
            commands.add_parser(name, help=summary)
            continue
        room = import_module(module)
        getattr(room, f"add_{name}")(commands)
        commands.choices[name].set_defaults(run=getattr(room, f"run_{name}"))
    return parser


if __name__ == "__main__":
    sys.exit(main())
