"""The two ends of a line to the controller: one that somebody else holds, and the watcher's own."""

from __future__ import annotations

import json
import os
import select
import socket
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from firmware_py.service.messages import PROTOCOL
from tests.faults.stage.hosted import Hosted, fork
from tests.faults.stage.moments import now_s

BEAT_S = 0.2
HELLO = {"message": "hello", "protocol": PROTOCOL, "client": "storm"}
WATCH = {"message": "watch"}


def spoken(message: dict[str, Any]) -> bytes:
    return json.dumps(message).encode() + b"\n"


def messages(heard: bytearray) -> Iterator[dict[str, Any]]:
    """Take the whole lines out of what was heard."""
    while (end := heard.find(b"\n")) >= 0:
        line = bytes(heard[:end])
        del heard[: end + 1]
        yield json.loads(line)


class Watcher:
    """A line of the harness's own that only looks: it hears every view and is part of no fault."""

    def __init__(self, path: Path, heard: Callable[[dict[str, Any]], None]) -> None:
        self._path = path
        self._tell = heard
        self._line: socket.socket | None = None
        self._heard = bytearray()

    @property
    def is_on(self) -> bool:
        return self._line is not None

    def look(self) -> None:
        """Connect if need be, and take in what came."""
        if self._line is None:
            self._connect()
        if self._line is None:
            return
        try:
            while chunk := self._line.recv(1 << 16):
                self._heard += chunk
            self.close()
        except BlockingIOError:
            pass
        except OSError:
            self.close()
        for message in messages(self._heard):
            self._tell(message)

    def close(self) -> None:
        if self._line is not None:
            self._line.close()
        self._line = None
        self._heard.clear()

    def _connect(self) -> None:
        line = socket.socket(socket.AF_UNIX)
        line.setblocking(False)
        try:
            line.connect(str(self._path))
            line.sendall(spoken(HELLO) + spoken(WATCH))
        except OSError:
            line.close()
            return
        self._line = line


class Mouth:
    """The person's client: a real process that holds the line, beats, and can be killed or frozen."""

    def __init__(self, socket_path: Path, said: Path, folder: Path) -> None:
        self._to_read, self._to = os.pipe()
        self._from, from_write = os.pipe()
        for end in (self._to, self._from):
            os.set_blocking(end, False)
        self.process: Hosted = fork(
            "client",
            said,
            lambda: relay(socket_path, self._to_read, from_write),
            environ={},
            folder=folder,
            keep=(self._to_read, from_write),
        )
        os.close(self._to_read)
        os.close(from_write)
        self._heard = bytearray()

    def say(self, message: dict[str, Any]) -> bool:
        """Hand a line over; return whether it was taken."""
        with suppress(OSError):
            return os.write(self._to, spoken(message)) > 0
        return False

    def hear(self) -> Iterator[dict[str, Any]]:
        """Take in what came back."""
        with suppress(BlockingIOError):
            while chunk := os.read(self._from, 1 << 16):
                self._heard += chunk
        yield from messages(self._heard)

    def close(self) -> None:
        os.close(self._to)
        os.close(self._from)


def relay(path: Path, ears: int, mouth: int) -> int:
    """Pass lines on between two pipes and the controller, and say every fifth of a second that we live."""
    line = socket.socket(socket.AF_UNIX)
    line.connect(str(path))
    line.sendall(spoken(HELLO) + spoken(WATCH))
    beat_s = 0.0
    while True:
        if now_s() >= beat_s:
            line.sendall(spoken({"message": "beat"}))
            beat_s = now_s() + BEAT_S
        ready, _, _ = select.select([ears, line.fileno()], [], [], max(0.0, beat_s - now_s()))
        if ears in ready:
            words = os.read(ears, 1 << 16)
            if not words:
                return 0
            line.sendall(words)
        if line.fileno() in ready:
            words = line.recv(1 << 16)
            if not words:
                return 0
            os.write(mouth, words)
