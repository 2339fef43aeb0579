"""One short talk with the controller at a socket, for a command that does one thing and leaves."""

from __future__ import annotations

import socket
import struct
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import TypeVar

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.facts.views.bench import BenchView
from firmware_py.service.messages import (
    LINE_LIMIT,
    PROTOCOL,
    Done,
    FromController,
    Hello,
    Look,
    Refusal,
    Seen,
    ToController,
    Welcome,
)

# A controller that has just started may have its hands full; nobody in the dark waits for a command line.
ANSWER_S = 30.0

Answer = TypeVar("Answer", Welcome, Seen, Done)
_encode = msgspec.json.Encoder().encode
_decode = msgspec.json.Decoder(FromController).decode


class Talk:
    """A line to the controller at ``path``, whose process is ``pid``."""

    def __init__(self, path: Path, line: socket.socket) -> None:
        self._path = path
        self._line = line
        self._answers = line.makefile("rb")
        self.pid: int = struct.unpack("3i", line.getsockopt(socket.SOL_SOCKET, socket.SO_PEERCRED, 12))[0]

    def greet(self, client: str) -> Welcome:
        """Introduce oneself; return how the controller answers. Raises Refused with its words."""
        self.send(Hello(protocol=PROTOCOL, client=client))
        return self._wait_for(Welcome)

    def send(self, message: ToController) -> None:
        """Send a line. Raises Refused where it is longer than the controller takes."""
        line = _encode(message) + b"\n"
        if len(line) > LINE_LIMIT:
            where, allowed = str(self._path), f"up to {LINE_LIMIT}: in parts"
            raise Refused(f"{len(line)} bytes at once", where=where, allowed=allowed)
        self._line.sendall(line)

    def close(self) -> None:
        """Stop reading."""
        self._answers.close()

    def look(self) -> BenchView:
        """Return the bench as it is now."""
        self.send(Look())
        return self._wait_for(Seen).bench

    def wait_until_done(self) -> None:
        """Return when what was asked is done. Raises Refused with the controller's words."""
        self._wait_for(Done)

    def _wait_for(self, kind: type[Answer]) -> Answer:
        while line := self._answers.readline():
            message = _decode(line)
            if isinstance(message, Refusal):
                raise message.refused
            if isinstance(message, kind):
                return message
        raise ConnectionError("it closed the line")


@contextmanager
def talk_with(path: Path) -> Iterator[Talk]:
    """Connect to the controller at a socket for as long as this lasts.

    Raises FileNotFoundError or ConnectionRefusedError where none listens there, and Refused where it does not
    answer, or may not be asked.
    """
    try:
        with closing(socket.socket(socket.AF_UNIX)) as line:
            line.settimeout(ANSWER_S)
            line.connect(str(path))
            with closing(Talk(path, line)) as talk:
                yield talk
    except (FileNotFoundError, ConnectionRefusedError):
        raise
    except PermissionError:
        raise Refused("this bench belongs to another user", where=str(path)) from None
    except TimeoutError:
        raise Refused(f"the controller did not answer for {ANSWER_S:g} s", where=str(path)) from None
    except (OSError, msgspec.DecodeError) as error:
        raise Refused(f"the line to the controller broke ({error})", where=str(path)) from error
