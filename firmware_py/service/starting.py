"""Starting a controller from a screen: as a process of its own that outlives the screen."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from select import select

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock

START_S = 20.0
LOOK_EVERY_S = 0.05
LOG = "controller.log"


def answers(path: Path) -> bool:
    """Return whether a controller listens at the socket."""
    with socket.socket(socket.AF_UNIX) as line:
        try:
            line.connect(str(path))
        except OSError:
            return False
    return True


def start_controller(arguments: Sequence[str], state: Path) -> subprocess.Popen[bytes]:
    """Start ``embertray serve`` with ``arguments``; what it says of trouble goes to a log in ``state``."""
    state.mkdir(mode=0o700, parents=True, exist_ok=True)
    log = os.open(state / LOG, os.O_CREAT | os.O_WRONLY | os.O_TRUNC | os.O_NOFOLLOW, 0o600)
    try:
        return subprocess.Popen(
            [sys.executable, "-m", "tui.cli", "serve", *arguments],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=log,
            start_new_session=True,
        )
    except OSError as error:
        raise Refused(f"cannot be started ({error.strerror})", where="controller") from error
    finally:
        os.close(log)


def wait_until_it_listens(process: subprocess.Popen[bytes], path: Path, state: Path) -> None:
    """Return when the controller listens. Raises Refused with its last words when it ends instead."""
    clock = BootClock()
    deadline_s = clock.now_s() + START_S
    while not answers(path):
        if process.poll() is not None:
            raise Refused(last_words(state), where="controller")
        if clock.now_s() > deadline_s:
            process.terminate()
            raise Refused(f"did not listen within {START_S:g} s", where="controller")
        select([], [], [], LOOK_EVERY_S)


def wait_until_it_answers(path: Path) -> None:
    """Return when a controller that somebody else starts listens. Raises Refused where none does in time."""
    clock = BootClock()
    deadline_s = clock.now_s() + START_S
    while not answers(path):
        if clock.now_s() > deadline_s:
            raise Refused(f"nothing listened within {START_S:g} s", where=str(path))
        select([], [], [], LOOK_EVERY_S)


def last_words(state: Path) -> str:
    """Return the last line that the controller wrote about itself."""
    try:
        lines = (state / LOG).read_text(encoding="utf-8", errors="replace").strip().splitlines()
    except OSError:
        lines = []
    return lines[-1].removeprefix("embertray: ") if lines else "ended without a word"
