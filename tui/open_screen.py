"""Opens the red screen: the gate first, everything else behind it."""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from pathlib import Path

from tui import gate
from tui.gate.wishes import wishes

# Unattended on a screen, a whole routine passes while one watches.
WATCHED_SPEED = "60"
END_S = 15.0


def open_screen(args: argparse.Namespace) -> int:  # noqa: ARG001 - a command takes its arguments
    """Open the screen on the configured bench, or on the simulated one where none is configured."""
    wished = wishes()
    return gate.run(
        [sys.executable, "-m", "tui.session"],
        level=wished.level,
        bell=wished.bell,
        still_open=_still_open,
        is_dark=_is_dark,
    )


def _still_open() -> str:
    """Ask the controller of the bench that the screen was opened on; the simulated one has no real plate."""
    from firmware_py.service.place import bench_place
    from tui.gate.still_open import still_open

    return still_open(bench_place().socket)


def _is_dark() -> bool:
    """Return whether the screen of that bench is black, or was when it died."""
    from firmware_py.service.place import bench_place
    from tui.gate.dark import is_dark

    return is_dark(bench_place().state)


def rehearse_on_screen(args: argparse.Namespace) -> int:
    """Rehearse on the red screen, and print what came of it once the terminal has its colours back."""
    from firmware_py.service.demo import make_demo_book
    from firmware_py.service.serving import rehearsal_plan
    from firmware_py.service.starting import start_controller, wait_until_it_listens
    from firmware_py.settings.paths import journal_path
    from tui.commands.rehearsed import readable

    speed = args.speed or (WATCHED_SPEED if args.unattended else "1")
    with tempfile.TemporaryDirectory(prefix="embertray-") as passing:
        state: Path = args.state or Path(passing)
        # Everything wrong is said here, before the terminal is taken and anything is started.
        rehearsal_plan(
            state=state, script=args.script, trace=args.trace, speed=speed, unattended=args.unattended
        )
        if args.demo_book:
            make_demo_book(journal_path(state))
        socket = state / "bench.sock"
        controller = start_controller([*_asked(args, speed), "--state", str(state)], state)
        try:
            wait_until_it_listens(controller, socket, state)
            status = _watch(socket, state, unattended=args.unattended)
        finally:
            controller.terminate()
            said, _ = controller.communicate(timeout=END_S)
        if said.strip():
            print("\n".join(readable(json.loads(said.splitlines()[-1]))))
    return status


def _watch(socket: Path, state: Path, *, unattended: bool) -> int:
    """Show a rehearsal on the red screen, behind the gate; return how that ended."""
    from tui.gate.dark import is_dark

    screen = [sys.executable, "-m", "tui.app", "--socket", str(socket)]
    if unattended:
        screen.append("--leave-when-over")
    wished = wishes()
    return gate.run(
        screen,
        level=wished.level,
        bell=wished.bell,
        unattended=unattended,
        is_dark=lambda: is_dark(state),
    )


def _asked(args: argparse.Namespace, speed: str) -> list[str]:
    asked = ["--rehearsal", "--speed", speed]
    for name, value in (("--script", args.script), ("--trace", args.trace)):
        if value is not None:
            # A name that is no file is that of a shipped script; one may lie in the folder of this process.
            asked += [name, str(value.resolve() if value.exists() else value)]
    return [*asked, "--unattended"] if args.unattended else asked
