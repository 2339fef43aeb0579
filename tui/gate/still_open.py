"""What on the bench may not see white light yet, asked of the controller itself over its socket.

Standard library only. Whatever goes wrong here is raised: the gate then says that nobody can tell.
"""

from __future__ import annotations

import json
import socket
from pathlib import Path
from typing import Any

ANSWER_S = 3.0
HELLO = b'{"message":"hello","protocol":2,"client":"gate"}\n{"message":"look"}\n'


def still_open(path: Path) -> str:
    """Return what lies open on the bench whose controller listens at ``path``, or nothing.

    A simulated bench has no plate that light could spoil. Raises OSError where no controller answers and
    ValueError where it speaks strangely. Source: own.
    """
    bench = seen_bench(path)
    if bench["rehearsal"]:
        return ""
    runs = [lane for lane in bench["lanes"] if is_open(lane)]
    if not runs:
        return ""
    named = ", ".join(f"run {int(run['lane'])} is open ({_plain(run['plate'])})" for run in runs)
    return f"NOT YET: {named}. White light would spoil it."


def bears_no_light(path: Path) -> bool:
    """Return whether a real plate on the bench bears no light at all; not so where no controller can tell."""
    try:
        bench = seen_bench(path)
        return bool(bench["light_allowed"] == "dark" and not bench["rehearsal"])
    except (OSError, ValueError, KeyError):
        return False


def seen_bench(path: Path) -> dict[str, Any]:
    """Return the bench's view as it crosses the socket."""
    with socket.socket(socket.AF_UNIX) as line:
        line.settimeout(ANSWER_S)
        line.connect(str(path))
        line.sendall(HELLO)
        with line.makefile("rb") as said:
            for words in said:
                message = json.loads(words)
                if message["message"] == "seen":
                    return dict(message["bench"])
                if message["message"] == "refusal":
                    raise ValueError(message["what"])
    raise ValueError("the controller closed the line")


def is_open(lane: dict[str, Any]) -> bool:
    """Return the controller's own answer whether white light would spoil what goes through a run."""
    told = lane["is_open"]
    if told is True or told is False:
        return told
    raise ValueError("the controller did not say whether a plate is open")


def _plain(text: str) -> str:
    return "".join(sign if sign.isprintable() else "?" for sign in text)[:60]
