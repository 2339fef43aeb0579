"""Has the controller at a socket do one act, for a command that does one thing and leaves."""

from __future__ import annotations

import socket
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.run import AnyAct
from firmware_py.service.messages import LINE_LIMIT, PROTOCOL, Do, Done, FromController, Hello, Refusal

# A controller that has just started may have its hands full; nobody in the dark waits for a command line.
ANSWER_S = 30.0

_encode = msgspec.json.Encoder().encode
_decode = msgspec.json.Decoder(FromController).decode


def ask_controller(path: Path, act: AnyAct) -> None:
    """Let the controller at a socket do an act; return when it is in the book.

    Raises Refused with its words, or where it does not answer.
    """
    line = _encode(Do(ticket=1, act=act)) + b"\n"
    if len(line) > LINE_LIMIT:
        raise Refused(f"{len(line)} bytes at once", where=str(path), allowed=f"up to {LINE_LIMIT}: in parts")
    try:
        with closing(socket.socket(socket.AF_UNIX)) as line_to:
            line_to.settimeout(ANSWER_S)
            line_to.connect(str(path))
            line_to.sendall(_encode(Hello(protocol=PROTOCOL, client="logbook")) + b"\n" + line)
            with line_to.makefile("rb") as answers:
                _wait_for_answer(answers.readline)
    except TimeoutError:
        raise Refused(f"the controller did not answer for {ANSWER_S:g} s", where=str(path)) from None
    except (OSError, msgspec.DecodeError) as error:
        raise Refused(f"the line to the controller broke ({error})", where=str(path)) from error


def _wait_for_answer(readline: Callable[[], bytes]) -> None:
    while line := readline():
        message = _decode(line)
        match message:
            case Done(ticket=1):
                return
            case Refusal():
                raise Refused(message.words)
            case _:
                pass
    raise ConnectionError("it closed the line")
