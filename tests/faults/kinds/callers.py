"""Who else may come to the socket: too many, deaf, babbling, endless, half, of another age, another user."""

from __future__ import annotations

import os
import socket
from contextlib import suppress
from random import Random
from typing import Any

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault, Needs
from tests.faults.stage.lines import HELLO, WATCH, spoken
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage
from tests.faults.stage.users import become_stranger

MANY = 100
ENDLESS_BYTES = 100 << 20
PATHS = ("../../../../tmp/storm-wrote-this", "/etc/storm-wrote-this", "..", "a/../../b", "\0", "~/storm")


def _call(stage: Stage) -> socket.socket | None:
    line = socket.socket(socket.AF_UNIX)
    line.setblocking(False)
    try:
        line.connect(str(stage.folder.socket))
    except OSError:
        line.close()
        return None
    return line


def _say(line: socket.socket | None, words: bytes) -> None:
    if line is not None:
        with suppress(OSError):
            line.send(words)


def _calling(words: bytes, *, times: int = 1) -> object:
    def strike(stage: Stage, _dice: Random, struck: Struck) -> None:
        struck.at_s = now_s()
        struck.notes["lines"] = lines = [_call(stage) for _ in range(times)]
        for line in lines:
            _say(line, words)

    return strike


def _babble(stage: Stage, dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    struck.notes["lines"] = [line := _call(stage)]
    for _ in range(40):
        _say(line, dice.randbytes(dice.randrange(1, 400)) + b"\n")


def _go_on_for_ever(stage: Stage, struck: Struck) -> None:
    """100 MB without an end of line, as fast as they are taken."""
    line = struck.notes["lines"][0]
    said = struck.notes.setdefault("bytes", 0)
    if line is None or said >= ENDLESS_BYTES:
        return
    with suppress(BlockingIOError, BrokenPipeError, ConnectionResetError):
        for _ in range(64):
            struck.notes["bytes"] += line.send(b"x" * (1 << 16))


def _deaf(stage: Stage, struck: Struck) -> None:
    for line in struck.notes["lines"]:
        _say(line, spoken({"message": "look"}) * 50)


def _name_paths(stage: Stage, dice: Random, struck: Struck) -> None:
    """Every field that takes words gets a path; nothing may be written there."""
    struck.at_s = now_s()
    struck.notes["lines"] = [line := _call(stage)]
    _say(line, spoken(HELLO))
    for path in PATHS:
        acts: list[dict[str, Any]] = [
            {"act": "open-run", "plate": path, "routine": path},
            {"act": "open-print", "negative": path, "paper": path},
            {"act": "make-bath", "formula": path, "volume_ml": 500.0, "name": path},
            {"act": "note", "text": path},
            {"act": "mark", "what": path},
            {"act": "bathe-sheet", "routine": path},
            {"act": "trust-probe", "probe": path, "trusted": False},
        ]
        for act in dice.sample(acts, k=4):
            _say(line, spoken({"message": "do", "ticket": 1, "act": act}))


def _as_stranger(stage: Stage, _dice: Random, struck: Struck) -> None:
    """Another user of the machine tries the socket, and every file that he can find."""
    struck.at_s = now_s()
    targets = [stage.folder.state, stage.folder.socket, *stage.folder.state.iterdir()]
    got = _tried_by_stranger(stage, [str(target) for target in targets])
    struck.notes["a stranger got at"] = got


def _tried_by_stranger(stage: Stage, targets: list[str]) -> list[str]:
    hear, tell = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            become_stranger()
            os.write(tell, "\n".join(filter(_can_open, targets)).encode())
        finally:
            os._exit(0)
    os.close(tell)
    os.waitpid(child, 0)
    with os.fdopen(hear) as told:
        return told.read().splitlines()


def _can_open(path: str) -> bool:
    with suppress(OSError), socket.socket(socket.AF_UNIX) as line:
        line.connect(path)
        return True
    for way in (os.O_RDONLY, os.O_WRONLY):
        with suppress(OSError):
            os.close(os.open(path, way))
            return True
    return False


def _hang_up(_stage: Stage, struck: Struck) -> None:
    for line in struck.notes.pop("lines", ()):
        if line is not None:
            line.close()


OUTCOME = "it is told so or dropped; everybody else is served, timers go on"
FAULTS = (
    Fault("100 clients", OUTCOME, _calling(spoken(HELLO) + spoken(WATCH), times=MANY), _hang_up),  # type: ignore[arg-type]
    Fault(
        "client that never reads",
        OUTCOME,
        _calling(spoken(HELLO) + spoken(WATCH)),  # type: ignore[arg-type]
        _hang_up,
        _deaf,
        lasts_s=(1.0, 3.0),
    ),
    Fault("client that babbles", OUTCOME, _babble, _hang_up),
    Fault("line of 100 MB", OUTCOME, _calling(b""), _hang_up, _go_on_for_ever),  # type: ignore[arg-type]
    Fault("half a message", OUTCOME, _calling(spoken(HELLO)[:-9]), _hang_up),  # type: ignore[arg-type]
    Fault(
        "client of another age",
        OUTCOME,
        _calling(spoken({**HELLO, "protocol": 9}) + spoken({"message": "sing"})),  # type: ignore[arg-type]
        _hang_up,
    ),
    Fault("messages with paths", "words are words: nothing is written there", _name_paths, _hang_up),
    Fault("another user", "he gets at nothing", _as_stranger, needs=Needs.ROOT),
)
