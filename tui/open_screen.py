"""Opens the red screen: the gate first, everything else behind it."""

from __future__ import annotations

import argparse
import json
import sys
from functools import partial
from pathlib import Path

from tui import gate
from tui.commands.arguments import named
from tui.gate.wishes import wishes

# Unattended on a screen, a whole routine passes while one watches.
WATCHED_SPEED = "60"
END_S = 15.0


def add_screen(parser: argparse.ArgumentParser) -> None:
    """Declare what `embertray` itself takes: whoever opens a screen, a person or a service, opens it so."""
    add = parser.add_argument
    add("--config", type=named, metavar="FILE", help="the bench.toml that counts")
    add("--socket", type=named, metavar="PATH", help="where a controller listens; none is then started")
    add("--state", type=named, metavar="DIR", help="keep brightness and faults in this folder")
    add_bar(parser)
    add("--level", type=_level, metavar="1-255", help="no brighter red than this and the settings allow")


def add_bar(parser: argparse.ArgumentParser) -> None:
    """Declare what a screen inside a multiplexer needs."""
    words = "inside tmux or screen: its own status bar is hidden, as in `tmux set status off`"
    parser.add_argument("--bar-hidden", action="store_true", help=words)


def open_screen(args: argparse.Namespace) -> int:
    """Open the screen on the configured bench, or on the simulated one where none is configured."""
    wished = wishes(args.config)
    socket = args.socket or wished.socket
    # A screen that is shown its controller keeps its own things beside the socket, where no folder is named.
    state = args.state or (args.socket.parent if args.socket else wished.state)
    words = ["--config", str(args.config)] if args.config else []
    return _gated(
        [*words, *([] if args.socket else ["--starts"])],
        state,
        socket,
        level=min(wished.level, args.level or wished.level),
        bell=wished.bell,
        bar_is_hidden=args.bar_hidden,
    )


def _gated(
    words: list[str],
    state: Path,
    socket: Path,
    *,
    level: int,
    bell: bool,
    unattended: bool = False,
    bar_is_hidden: bool = False,
) -> int:
    """Run the screen behind the gate, which knows from here on where its bench is."""
    where = ["--state", str(state), "--socket", str(socket)]
    return gate.run(
        [sys.executable, "-P", "-m", "tui.session", *where, *words],
        level=level,
        bell=bell,
        still_open=partial(_still_open, socket),
        state=state,
        unattended=unattended,
        bar_is_hidden=bar_is_hidden,
    )


def _still_open(socket: Path) -> str:
    # Only who gives the colours back needs these imports: the terminal is red sooner without them.
    from tui.gate.still_open import still_open

    return still_open(socket)


def _level(text: str) -> int:
    level = int(text)
    if not 1 <= level <= 255:
        raise ValueError
    return level


def rehearse_on_screen(args: argparse.Namespace) -> int:
    """Rehearse on the red screen, and print what came of it once the terminal has its colours back."""
    from firmware_py.service.demo import make_demo_book
    from firmware_py.service.serving import rehearsal_plan
    from firmware_py.service.starting import start_controller, wait_until_it_listens
    from firmware_py.settings.paths import journal_path
    from tui.commands.rehearsed import readable
    from tui.passing import passing

    speed = args.speed or (WATCHED_SPEED if args.unattended else "1")
    with passing(args.state) as session:
        state = session.folder
        # Everything wrong is said here, before the terminal is taken and anything is started.
        rehearsal_plan(
            state=state, script=args.script, trace=args.trace, speed=speed, unattended=args.unattended
        )
        if args.demo_book:
            make_demo_book(journal_path(state))
        socket = state / "bench.sock"
        controller = start_controller([*_asked(args, speed), "--state", str(state)], state)
        session.goes_too(controller)
        try:
            wait_until_it_listens(controller, socket, state)
            status = _watch(socket, state, unattended=args.unattended, bar_is_hidden=args.bar_hidden)
        finally:
            controller.terminate()
            said, _ = controller.communicate(timeout=END_S)
        if said.strip():
            print("\n".join(readable(json.loads(said.splitlines()[-1]))))
    return status


def _watch(socket: Path, state: Path, *, unattended: bool, bar_is_hidden: bool) -> int:
    """Show a rehearsal on the red screen, behind the gate; return how that ended."""
    words = ["--leave-when-over"] if unattended else []
    wished = wishes()
    return _gated(
        words,
        state,
        socket,
        level=wished.level,
        bell=wished.bell,
        unattended=unattended,
        bar_is_hidden=bar_is_hidden,
    )


def _asked(args: argparse.Namespace, speed: str) -> list[str]:
    asked = ["--rehearsal", "--speed", speed]
    for name, value in (("--script", args.script), ("--trace", args.trace)):
        if value is not None:
            # A name that is no file is that of a shipped script; one may lie in the folder of this process.
            asked += [name, str(value.resolve() if value.exists() else value)]
    return [*asked, "--unattended"] if args.unattended else asked
