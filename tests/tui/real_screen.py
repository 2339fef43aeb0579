"""The real screen behind the real gate on a real controller, and what must hold of every byte it writes."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.tui.terminal_session import TerminalSession

LEVEL = 150


@contextmanager
def controller(folder: Path) -> Iterator[subprocess.Popen[bytes]]:
    """A controller of the simulated bench, in a process of its own."""
    argv = [sys.executable, "-m", "tui.cli", "serve", "--rehearsal"]
    argv += ["--state", str(folder), "--socket", str(folder / "bench.sock")]
    with subprocess.Popen(argv, stdout=subprocess.DEVNULL) as process:
        try:
            yield process
        finally:
            process.terminate()
            process.wait(20)


def screen(folder: Path, **session: Any) -> TerminalSession:
    """The screen on that controller."""
    return TerminalSession(*screen_argv(folder), level=LEVEL, **session)


def screen_argv(folder: Path) -> list[str]:
    """The command that opens the screen on that controller."""
    return [sys.executable, "-m", "tui.cli", "--socket", str(folder / "bench.sock"), "--level", str(LEVEL)]


def not_red(session: TerminalSession, level: int = LEVEL) -> list[str]:
    """Everything written or shown that was not red, or brighter than ``level``, once all is drawn."""
    session.settle()
    shown = {colour for colour in session.colours() if colour != "default"}
    if session.strict.console:
        # There the cells name one of 16 colours; the strict reader has seen what each of them was made.
        wrong = []
    else:
        wrong = [f"a cell of {c}" for c in shown if c[2:] != "0000" or int(c[:2], 16) > level]
        missing = {"10", "11", "12"} - session.strict.palette
        wrong += [f"default colour {number} left as it was" for number in sorted(missing)]
    if session.strict.drawn < 100:
        wrong.append("hardly anything was drawn, so nothing is proved")
    return [*session.strict.faults, *wrong]


def assert_red(session: TerminalSession) -> None:
    assert not_red(session) == []
    assert session.strict.drawn > 500
